/* The facts of this build, from facts.h, checked. */
#ifndef SETTINGS_H
#define SETTINGS_H

#include "device.h"

extern const struct device_facts settings;

#endif

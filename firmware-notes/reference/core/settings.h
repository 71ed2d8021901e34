/* The facts of this build, read once from facts.h and checked. */
#ifndef SETTINGS_H
#define SETTINGS_H

#include "unit.h"

extern const struct unit_facts settings;

#endif

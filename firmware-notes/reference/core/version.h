/* The firmware's own version, as HI tells it. */
#ifndef VERSION_H
#define VERSION_H

#define FIRMWARE_VERSION "0.1.0"

#endif

/* The firmware's own version, as HI sends it. */
#ifndef VERSION_H
#define VERSION_H

#define FIRMWARE_VERSION "0.2.0"

#endif

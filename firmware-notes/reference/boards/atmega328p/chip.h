/* What this chip's own files share. */
#ifndef CHIP_H
#define CHIP_H

#include <stdbool.h>

/* Set by every interrupt that leaves the main loop something to do. */
extern volatile bool work_waits;

/* Timer 1, as the count of the core. */
void clock_start(void);

#endif

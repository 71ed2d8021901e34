# The ATmega328P at 16 MHz and 5 V: gcc-avr and avr-libc.
CROSS := avr-
CHIP_FLAGS := -mmcu=atmega328p -DF_CPU=16000000UL
LINK_FLAGS :=
LIBRARIES :=
IMAGE_KIND := hex
FLASH_BAUD ?= 115200
FLASH_FLAGS ?= -D

define MAKE_IMAGE
$(CROSS)objcopy -O ihex -j .text -j .data $< $@
endef

# PROGRAMMER is avrdude's name for the way the board takes an image, PORT its serial port.
define FLASH_IMAGE
@test -n "$(PROGRAMMER)" || { echo "make flash: say how the board takes an image, PROGRAMMER=...; ../README.md says how to find it" >&2; exit 2; }
@test -n "$(PORT)" || { echo "make flash: say where the board is, PORT=/dev/serial/by-id/..." >&2; exit 2; }
avrdude -p m328p -c $(PROGRAMMER) -P $(PORT) -b $(FLASH_BAUD) $(FLASH_FLAGS) -U flash:w:$(KEPT):i
endef

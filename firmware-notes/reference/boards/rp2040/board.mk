# The RP2040 at 48 MHz and 3.3 V: gcc-arm-none-eabi, and node for the image.
CROSS := arm-none-eabi-
CHIP_FLAGS := -mcpu=cortex-m0plus -mthumb -ffreestanding
LINK_FLAGS := -nostdlib -T boards/rp2040/link.ld
LIBRARIES := -lgcc
IMAGE_KIND := uf2

define MAKE_IMAGE
$(CROSS)objcopy -O binary $< $(OUT)/board.bin
node boards/rp2040/uf2.mjs $(OUT)/board.bin $@
endef

# DRIVE is where the board appears as a drive while it waits for an image.
define FLASH_IMAGE
@test -n "$(DRIVE)" || { echo "make flash: hold BOOTSEL while you plug the board in, then say where its drive is, DRIVE=/media/..." >&2; exit 2; }
cp $(KEPT) $(DRIVE)/
endef

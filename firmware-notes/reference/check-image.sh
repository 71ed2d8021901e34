#!/bin/sh
# Builds every image from source in a temporary folder and fails when a kept one differs.
cd "$(dirname "$0")" || exit 1

if ! command -v avr-gcc > /dev/null; then
  echo "check-image: avr-gcc is not installed, so nothing was compared; install gcc-avr and avr-libc." >&2
  exit 3
fi

work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
differs=0

for folder in facts/*/; do
  facts=$(basename "$folder")
  if ! make --silent image FACTS="$facts" BUILD="$work" > "$work/log" 2>&1; then
    cat "$work/log" >&2
    echo "check-image: facts/$facts does not build." >&2
    exit 1
  fi
  if ! cmp -s "$work/$facts/board.hex" "image/$facts.hex"; then
    echo "check-image: image/$facts.hex is not what the source gives with $(avr-gcc --version | head -n 1);" \
      "if the source is right, run 'make keep' and commit the image." >&2
    differs=1
  fi
done

for kept in image/*.hex; do
  if [ ! -d "facts/$(basename "$kept" .hex)" ]; then
    echo "check-image: $kept has no folder of facts to come from; remove it." >&2
    differs=1
  fi
done

[ "$differs" -eq 0 ] && echo "check-image: every kept image comes from this source."
exit "$differs"

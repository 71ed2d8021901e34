#!/bin/sh
# Builds every kept image from source in a temporary folder and fails when one differs.
cd "$(dirname "$0")" || exit 1

work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
differs=0

for kept in image/*/*; do
  board=$(basename "$(dirname "$kept")")
  facts=$(basename "${kept%.*}")
  if ! make --silent image BOARD="$board" FACTS="$facts" BUILD="$work" > "$work/log" 2>&1; then
    cat "$work/log" >&2
    echo "check-image: $kept can't be built. Is the board's compiler installed (gcc-avr and avr-libc, gcc-arm-none-eabi)?" >&2
    exit 1
  fi
  if ! cmp -s "$work/$board/$facts/board.${kept##*.}" "$kept"; then
    echo "check-image: $kept isn't what the source gives with this compiler." \
      "If the source is right, run 'make keep BOARD=$board FACTS=$facts' and commit the image." >&2
    differs=1
  fi
done

for folder in facts/*/; do
  facts=$(basename "$folder")
  if ! ls image/*/"$facts".* > /dev/null 2>&1; then
    echo "check-image: facts/$facts has no image; run 'make keep BOARD=... FACTS=$facts' and commit it." >&2
    differs=1
  fi
done

[ "$differs" -eq 0 ] && echo "check-image: every kept image comes from this source."
exit "$differs"

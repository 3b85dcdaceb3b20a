#!/usr/bin/env bash
# Makes the pictures of sheets in the manual from the examples: first pages of each
# sheet as examples/NAME/sheet-PAGE.png. Needs pdftoppm (Debian: poppler-utils).
set -euo pipefail
cd "$(dirname "$0")/../.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for name in five-machines reverse-dials; do
  go run ./cmd/leastmove sheet "examples/$name/before.toml" -o "$work/sheet.pdf" 2>"$work/said" || { cat "$work/said"; exit 1; }
  mkdir "$work/$name"
  pdftoppm -r 110 -l 2 -gray -png "$work/sheet.pdf" "$work/$name/sheet"
done
go run ./testdata/pictures/grays "$work"/*/*.png
rm -f examples/*/sheet-*.png
for name in five-machines reverse-dials; do
  cp "$work/$name"/*.png "examples/$name/"
done

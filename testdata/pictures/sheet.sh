#!/usr/bin/env bash
# Makes the pictures of sheets in README from the examples: every page of each
# sheet as examples/NAME-sheet-PAGE.png. Needs pdftoppm (Debian: poppler-utils).
set -euo pipefail
cd "$(dirname "$0")/../.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for name in five-machine-string motor-gear-compressors; do
  go run ./cmd/leastmove sheet "examples/$name.toml" -o "$work/$name-sheet.pdf" 2>"$work/said" || { cat "$work/said"; exit 1; }
  pdftoppm -r 110 -gray -png "$work/$name-sheet.pdf" "$work/$name-sheet"
done
go run ./testdata/pictures/grays "$work"/*.png
rm -f examples/*-sheet-*.png
cp "$work"/*.png examples/

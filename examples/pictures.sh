#!/usr/bin/env bash
# Makes the picture of a report in README from an example: its first screen. Needs
# Go and Chromium.
set -euo pipefail
cd "$(dirname "$0")/.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
go run ./cmd/leastmove report examples/turbine-gear-compressor.toml -o "$work/report.html" 2>/dev/null
picture() { # name, width, height
  chromium --headless --no-sandbox --disable-gpu --hide-scrollbars --window-size="$2,$3" \
    --screenshot="$PWD/examples/$1" "file://$work/report.html" >/dev/null 2>&1
}
picture report.png 1000 1075

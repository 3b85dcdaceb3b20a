#!/usr/bin/env bash
# Makes the pictures of README and of the manual's page of reports: the first screen of one, and the moves. Needs
# Go and Chromium.
set -euo pipefail
cd "$(dirname "$0")/.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
go run ./cmd/leastmove report examples/turbine/before.toml -o "$work/report.html" 2>/dev/null
picture() { # name, width, height
  chromium --headless --no-sandbox --disable-gpu --hide-scrollbars --window-size="$2,$3" \
    --screenshot="$PWD/examples/$1" "file://$work/report.html" >/dev/null 2>&1
}
picture report.png 1000 1075
# The moves of README's own train, and which way is which.
sed -n '/^```toml$/,/^```$/p' README.md | sed '1d;$d' >"$work/train.toml"
go run ./cmd/leastmove chart "$work/train.toml" --figure moves -o "$work/train.svg"
go run ./cmd/leastmove chart "$work/train.toml" --figure signs -o "$work/signs.svg"
cp "$work/train.svg" "$work/signs.svg" examples/

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
picture report.png 1000 1140
# The moves of README's own train, and which way is which.
sed -n '/^```toml$/,/^```$/p' README.md | sed '1d;$d' >"$work/train.toml"
go run ./cmd/leastmove chart "$work/train.toml" --figure moves -o "$work/train.svg"
go run ./cmd/leastmove chart "$work/train.toml" --figure signs -o "$work/signs.svg"
cp "$work/train.svg" "$work/signs.svg" examples/
# The page of "what if", with two questions asked.
cp examples/turbine/before.toml "$work/turbine.toml"
go build -o "$work/leastmove" ./cmd/leastmove
XDG_CACHE_HOME="$work" "$work/leastmove" explore --no-open "$work/turbine.toml" >"$work/address" 2>/dev/null &
served=$!
trap 'kill "$served"; rm -rf "$work"' EXIT
until [ -s "$work/address" ]; do sleep 0.1; done
address=$(<"$work/address")
origin=$(cut -d/ -f1-3 <<<"$address")
desk=$(curl -s -L -o "$work/page" -w '%{url_effective}' "$address")
ask() { curl -s -o "$work/page" -H "Origin: $origin" "$@" "${desk}do"; }
ask -d what=machine -d name=compressor -d to=hold
ask -d what=name -d 'name=compressor stays'
ask -d what=look -d case=0
ask -d what=aim -d use=50
ask -d what=name -d 'name=half as margin'
ask -d what=look -d case=0
ask -d what=values -d scale.machine.0.growth=1.3
ask -d what=name --data-urlencode 'name=turbine grows by 30 % more'
until curl -s "${desk}part" >"$work/page" && ! grep -q -e aria-busy -e searching "$work/page"; do sleep 0.2; done
chromium --headless=old --no-sandbox --disable-gpu --hide-scrollbars --window-size=1280,1540 --timeout=5000 \
  --screenshot="$PWD/examples/explore.png" "$desk" >/dev/null 2>&1

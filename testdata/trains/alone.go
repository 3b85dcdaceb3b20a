package trains

// Alone is two machines and one coupling with limits for each plane.
const Alone = `
title = "one coupling (invented)"
units = "mm"
[[machine]]
name = "one"
height = 500
hold = true
[[machine.foot]]
name = "A"
x = 0
spread = 800
shim = 4
[[machine.foot]]
name = "B"
x = 1000
spread = 800
shim = 4
[[machine]]
name = "two"
height = 500
[[machine.foot]]
name = "A"
x = 2000
spread = 800
shim = 4
[[machine.foot]]
name = "B"
x = 3000
spread = 800
shim = 4
[[coupling]]
name = "only"
from = "one"
to = "two"
x = 1500
limit = { offset = 0.05, angle = 0.10, each_plane = true }
found = { v = { offset = 0.03, angle = 0.04 }, h = { offset = -0.01, angle = 0.05 } }
`

package trainfile

import (
	"fmt"
	"strings"
)

// A Material is what machines are made of between shim plane and shaft.
type Material struct {
	Names       []string // that a file may call it, without regard to case; the first is the one printed
	Coefficient float64  // of thermal expansion near room temperature, 1e-6 per °F
	Source      string
}

// perCelsius turns 1e-6 per °F into 1 per °C: a rise of 1 °C is one of 1.8 °F.
const perCelsius = 1.8e-6

// Materials are those that a foot's `material` may name. The coefficients are
// those near room temperature: tables for hot ranges run about 30 % higher and
// are not for feet.
func Materials() []Material {
	const (
		frames = "McMillan, Rotating Machinery: Practical Solutions to Unbalance and Misalignment (2004), p. 134, Table 8-3"
		gears  = "Elements of Metric Gear Technology, materials table (32-212 °F)"
	)
	return []Material{
		{[]string{"steel", "cast iron", "cast steel", "carbon steel", "steel and cast iron frames",
			"general steel and iron frames"}, 6.3, frames},
		{[]string{"grey iron", "grey cast iron", "gray iron", "gray cast iron"}, 6.0, gears},
		{[]string{"AISI 4140", "4140"}, 6.2, gears},
		{[]string{"austenitic stainless", "austenitic stainless steel", "300 series stainless"}, 9.6, gears},
		{[]string{"martensitic stainless", "martensitic stainless steel", "400 series stainless"}, 5.6, gears},
		{[]string{"wrought aluminium", "aluminium", "wrought aluminum", "aluminum"}, 12.6, gears},
		{[]string{"concrete"}, 6.25, "from memory: the middle of 5.5 to 7"},
	}
}

// called says whether the material goes by a name.
func (m *Material) called(name string) bool {
	for _, n := range m.Names {
		if strings.EqualFold(n, name) {
			return true
		}
	}
	return false
}

// said is the material with its coefficient, as a warning has it.
func (m *Material) said() string {
	return fmt.Sprintf("%s, %.4ge-6 per °C (%.4ge-6 per °F)", m.Names[0], m.Coefficient*1.8, m.Coefficient)
}

// isCastIron says whether a name leaves open which iron it is: grey and nodular iron do not expand alike. It is counted
// as the frames of McMillan's table, which has steel and cast iron in one.
func isCastIron(name string) bool { return strings.EqualFold(name, "cast iron") }

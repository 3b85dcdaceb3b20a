package view

import (
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What pages get is plain data: nothing of the solver that a page can reach has a state of its own, and no
// method of a plan of the solver is among those of a view.
func TestViewsArePlainData(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var look func(at reflect.Type, path string)
	look = func(at reflect.Type, path string) {
		switch at.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
			look(at.Elem(), path)
		case reflect.Func, reflect.Chan, reflect.Interface, reflect.UnsafePointer:
			t.Errorf("%s is a %s", path, at.Kind())
		}
		if at.Kind() != reflect.Struct || seen[at] {
			return
		}
		seen[at] = true
		// A fault of diagnose keeps the station that it is at beside the feet that it names.
		solver := strings.HasPrefix(at.PkgPath(), "leastmove/optimize") && at.Name() != "Fault"
		for i := range at.NumField() {
			f := at.Field(i)
			if f.IsExported() {
				look(f.Type, path+"."+f.Name)
			} else {
				assert.False(t, solver, "%s has %s, which is the solver's own", path, f.Name)
			}
		}
		for _, method := range []string{"Begun", "BeginAs", "Take", "Measure", "Limits", "FootRoom", "Handled", "Reserve"} {
			_, has := reflect.PointerTo(at).MethodByName(method)
			assert.False(t, has, "%s has the method %s of a plan of the solver", path, method)
		}
	}
	for _, of := range []any{Plan{}, Comparison{}, Replayed{}, Verified{}, WorkOrder{}, Check{}, Figures{},
		Survey{}, CouplingRead{}} {
		at := reflect.TypeOf(of)
		look(at, at.Name())
	}
	assert.Greater(t, len(seen), 50)
}

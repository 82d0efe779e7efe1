package main

import (
	"bytes"
	"fmt"
	"maps"
	"slices"

	"hushcup/pwa/core/brewing"
)

// limits writes what the fields of a brew may hold, in the units that they are typed in: concentrations in percent, times in
// seconds.
func limits() []byte {
	var out bytes.Buffer
	out.WriteString(head + "/** Of the numbers of a brew: refused outside min and max, asked about outside usual. */\nexport const limits = {\n")
	all := brewing.FieldLimits()
	for _, field := range slices.Sorted(maps.Keys(all)) {
		l, unit := all[field], 1.0
		switch field {
		case "tds":
			unit = 0.01
		case "total":
			unit = 1000
		}
		fmt.Fprintf(&out, "  %s: { min: %.4g, max: %.6g, usual: [%.4g, %.6g] as [number, number] },\n", field, l.Least/unit, l.Most/unit, l.Low/unit, l.High/unit)
	}
	out.WriteString("};\n")
	return out.Bytes()
}

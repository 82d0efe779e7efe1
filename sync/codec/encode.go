package codec

import (
	"encoding/binary"
	"math"
	"reflect"
	"sort"
)

// encoder appends items to out. After an error it goes on, harmlessly.
type encoder struct {
	out []byte
	err error
}

// TypeError says that a Go type has no encoding here.
type TypeError struct {
	Type string
	Why  string
}

func (e *TypeError) Error() string { return "codec: " + e.Type + ": " + e.Why }

func typeError(t reflect.Type, why string) error { return &TypeError{t.String(), why} }

var rawType = reflect.TypeFor[Raw]()

func (e *encoder) value(v reflect.Value) {
	if !v.IsValid() {
		e.simple(simpleNull)
		return
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			e.simple(simpleNull)
			return
		}
		e.value(v.Elem())
	case reflect.Bool:
		if v.Bool() {
			e.simple(simpleTrue)
		} else {
			e.simple(simpleFalse)
		}
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		e.integer(v.Int())
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		e.head(kindUint, v.Uint())
	case reflect.Float32, reflect.Float64:
		e.float(v.Float())
	case reflect.String:
		e.text(v.String())
	case reflect.Slice, reflect.Array:
		e.list(v)
	case reflect.Map:
		e.mapping(v)
	case reflect.Struct:
		e.structure(v)
	default:
		e.fail(v.Type(), "has no encoding")
	}
}

func (e *encoder) fail(t reflect.Type, why string) {
	if e.err == nil {
		e.err = typeError(t, why)
	}
}

// head writes an item's first byte and its argument, in the shortest form.
func (e *encoder) head(kind byte, argument uint64) {
	first := kind << 5
	switch {
	case argument < 24:
		e.out = append(e.out, first|byte(argument))
	case argument <= math.MaxUint8:
		e.out = append(e.out, first|24, byte(argument))
	case argument <= math.MaxUint16:
		e.out = binary.BigEndian.AppendUint16(append(e.out, first|25), uint16(argument))
	case argument <= math.MaxUint32:
		e.out = binary.BigEndian.AppendUint32(append(e.out, first|26), uint32(argument))
	default:
		e.out = binary.BigEndian.AppendUint64(append(e.out, first|27), argument)
	}
}

func (e *encoder) simple(value byte) { e.out = append(e.out, kindSimple<<5|value) }

func (e *encoder) integer(n int64) {
	if n < 0 {
		e.head(kindNegint, uint64(-1-n))
		return
	}
	e.head(kindUint, uint64(n))
}

func (e *encoder) text(s string) {
	e.head(kindText, uint64(len(s)))
	e.out = append(e.out, s...)
}

// float writes the shortest form that loses nothing. All that are not a number are one.
func (e *encoder) float(x float64) {
	single := float32(x)
	switch half, exact := toHalf(single); {
	case x != x:
		e.out = append(e.out, kindSimple<<5|floatHalf, 0x7e, 0x00)
	case float64(single) == x && exact:
		e.out = binary.BigEndian.AppendUint16(append(e.out, kindSimple<<5|floatHalf), half)
	case float64(single) == x:
		e.out = binary.BigEndian.AppendUint32(append(e.out, kindSimple<<5|floatSingle), math.Float32bits(single))
	default:
		e.out = binary.BigEndian.AppendUint64(append(e.out, kindSimple<<5|floatDouble), math.Float64bits(x))
	}
}

func (e *encoder) list(v reflect.Value) {
	if v.Type() == rawType {
		if v.Len() == 0 {
			e.simple(simpleNull)
		}
		e.out = append(e.out, v.Bytes()...)
		return
	}
	if v.Type().Elem().Kind() == reflect.Uint8 {
		e.head(kindBytes, uint64(v.Len()))
		e.byteString(v)
		return
	}
	e.head(kindArray, uint64(v.Len()))
	for i := 0; i < v.Len(); i++ {
		e.value(v.Index(i))
	}
}

func (e *encoder) byteString(v reflect.Value) {
	if v.Kind() == reflect.Slice || v.CanAddr() {
		e.out = append(e.out, v.Bytes()...)
		return
	}
	for i := 0; i < v.Len(); i++ {
		e.out = append(e.out, byte(v.Index(i).Uint()))
	}
}

// mapping writes a map in the order of its encoded keys.
func (e *encoder) mapping(v reflect.Value) {
	type pair struct{ key, value []byte }
	pairs := make([]pair, 0, v.Len())
	for iter := v.MapRange(); iter.Next(); {
		key, value := encoder{}, encoder{}
		key.value(iter.Key())
		value.value(iter.Value())
		if e.err == nil {
			e.err = key.err
		}
		if e.err == nil {
			e.err = value.err
		}
		pairs = append(pairs, pair{key.out, value.out})
	}
	sort.Slice(pairs, func(i, j int) bool { return string(pairs[i].key) < string(pairs[j].key) })
	e.head(kindMap, uint64(len(pairs)))
	for _, p := range pairs {
		e.out = append(append(e.out, p.key...), p.value...)
	}
}

func (e *encoder) structure(v reflect.Value) {
	p := planOf(v.Type())
	if p.err != nil {
		e.err = p.err
		return
	}
	if p.array {
		e.head(kindArray, uint64(len(p.fields)))
		for i := range p.fields {
			e.value(v.FieldByIndex(p.fields[i].index))
		}
		return
	}
	count := 0
	for i := range p.fields {
		if !p.fields[i].left(v) {
			count++
		}
	}
	e.head(kindMap, uint64(count))
	for i := range p.fields {
		if f := &p.fields[i]; !f.left(v) {
			e.out = append(e.out, f.key...)
			e.value(v.FieldByIndex(f.index))
		}
	}
}

// left says whether a field is left out of its struct.
func (f *field) left(v reflect.Value) bool {
	if !f.omit {
		return false
	}
	switch v = v.FieldByIndex(f.index); v.Kind() {
	case reflect.Slice, reflect.Map, reflect.String, reflect.Array:
		return v.Len() == 0
	case reflect.Struct:
		return false
	}
	return v.IsZero()
}

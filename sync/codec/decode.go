package codec

import (
	"math"
	"reflect"
	"unicode/utf8"
)

// decoder reads items from in. After an error it reads nothing more.
type decoder struct {
	in     []byte
	at     int
	strict bool
	err    error
}

// Error says what is wrong with encoded bytes, and where.
type Error struct {
	At  int
	Why string
}

func (e *Error) Error() string { return "codec: " + e.Why }

func (d *decoder) fail(why string) {
	if d.err == nil {
		d.err = &Error{d.at, why}
	}
}

// head reads an item's first byte and its argument. Lengths are bounded by what is left, before memory is taken for them.
func (d *decoder) head() (kind, low byte, argument uint64) {
	if d.err != nil {
		return 0, 0, 0
	}
	if d.at >= len(d.in) {
		d.fail("bytes end too early")
		return 0, 0, 0
	}
	first := d.in[d.at]
	d.at++
	kind, low = first>>5, first&31
	size := 0
	switch {
	case low < 24:
		argument = uint64(low)
	case low <= 27:
		size = 1 << (low - 24)
	default:
		d.fail("an indefinite length or a reserved form")
	}
	if size > 0 {
		argument = d.argument(size)
	}
	d.bound(kind, argument)
	return kind, low, argument
}

func (d *decoder) argument(size int) (n uint64) {
	if len(d.in)-d.at < size {
		d.fail("bytes end too early")
		return 0
	}
	for _, b := range d.in[d.at : d.at+size] {
		n = n<<8 | uint64(b)
	}
	d.at += size
	return n
}

func (d *decoder) bound(kind byte, argument uint64) {
	left := uint64(len(d.in) - d.at)
	switch {
	case d.err != nil:
	case kind == kindTag:
		d.fail("a tag")
	case (kind == kindBytes || kind == kindText) && argument > left:
		d.fail("a string longer than what is left")
	case kind == kindArray && (argument > maxElements || argument > left):
		d.fail("too many elements")
	case kind == kindMap && (argument > maxPairs || argument > left/2):
		d.fail("too many pairs")
	}
}

// value reads one item into v.
func (d *decoder) value(v reflect.Value, depth int) {
	if d.err != nil {
		return
	}
	if v.Type() == rawType {
		begin := d.at
		d.skip(depth)
		if d.err == nil {
			v.SetBytes(append([]byte(nil), d.in[begin:d.at]...))
		}
		return
	}
	if d.null() {
		v.SetZero()
		return
	}
	if v.Kind() == reflect.Pointer {
		target := reflect.New(v.Type().Elem())
		d.value(target.Elem(), depth)
		v.Set(target)
		return
	}
	switch kind, low, argument := d.head(); {
	case d.err != nil:
	case kind == kindUint:
		d.unsigned(v, argument)
	case kind == kindNegint:
		d.negative(v, argument)
	case kind == kindBytes:
		d.bytes(v, int(argument))
	case kind == kindText:
		d.text(v, int(argument))
	case kind == kindArray:
		d.array(v, int(argument), depth+1)
	case kind == kindMap:
		d.mapping(v, int(argument), depth+1)
	default:
		d.simple(v, low, argument)
	}
}

// null takes a null or undefined, if one comes.
func (d *decoder) null() bool {
	if d.at < len(d.in) && (d.in[d.at] == kindSimple<<5|simpleNull || d.in[d.at] == kindSimple<<5|simpleUndefined) {
		d.at++
		return true
	}
	return false
}

const notWanted = "not of the type that is wanted"

func (d *decoder) unsigned(v reflect.Value, n uint64) {
	switch {
	case v.CanUint() && !v.OverflowUint(n):
		v.SetUint(n)
	case v.CanInt() && n <= math.MaxInt64 && !v.OverflowInt(int64(n)):
		v.SetInt(int64(n))
	case v.CanFloat():
		v.SetFloat(float64(n))
	default:
		d.fail(notWanted)
	}
}

func (d *decoder) negative(v reflect.Value, n uint64) {
	switch {
	case v.CanInt() && n <= math.MaxInt64 && !v.OverflowInt(-1-int64(n)):
		v.SetInt(-1 - int64(n))
	case v.CanFloat():
		v.SetFloat(-1 - float64(n))
	default:
		d.fail(notWanted)
	}
}

func (d *decoder) take(length int) []byte {
	b := d.in[d.at : d.at+length]
	d.at += length
	return b
}

func (d *decoder) bytes(v reflect.Value, length int) {
	b := d.take(length)
	switch {
	case v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Uint8:
		v.SetBytes(append(make([]byte, 0, length), b...))
	case v.Kind() == reflect.Array && v.Type().Elem().Kind() == reflect.Uint8 && v.Len() == length:
		reflect.Copy(v, reflect.ValueOf(b))
	default:
		d.fail(notWanted)
	}
}

func (d *decoder) text(v reflect.Value, length int) {
	b := d.take(length)
	switch {
	case !utf8.Valid(b):
		d.fail("a text that is not UTF-8")
	case v.Kind() != reflect.String:
		d.fail(notWanted)
	default:
		v.SetString(string(b))
	}
}

func (d *decoder) simple(v reflect.Value, low byte, argument uint64) {
	var x float64
	switch low {
	case simpleFalse, simpleTrue:
		if v.Kind() != reflect.Bool {
			d.fail(notWanted)
			return
		}
		v.SetBool(low == simpleTrue)
		return
	case floatHalf:
		x = fromHalf(uint16(argument))
	case floatSingle:
		x = float64(math.Float32frombits(uint32(argument)))
	case floatDouble:
		x = math.Float64frombits(argument)
	default:
		d.fail("a simple value that means nothing here")
		return
	}
	if !v.CanFloat() || v.OverflowFloat(x) {
		d.fail(notWanted)
		return
	}
	v.SetFloat(x)
}

// deeper says whether one more level may be entered.
func (d *decoder) deeper(depth int) bool {
	if depth > maxDepth {
		d.fail("nested too deeply")
	}
	return d.err == nil
}

func (d *decoder) array(v reflect.Value, count, depth int) {
	if !d.deeper(depth) {
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		d.fields(v, count, depth)
	case reflect.Slice:
		// memory grows with what really comes, not with what is announced
		list := reflect.MakeSlice(v.Type(), 0, min(count, 64))
		for range count {
			element := reflect.New(v.Type().Elem()).Elem()
			d.value(element, depth)
			if d.err != nil {
				return
			}
			list = reflect.Append(list, element)
		}
		v.Set(list)
	case reflect.Array:
		if count != v.Len() {
			d.fail(notWanted)
		}
		for i := 0; i < v.Len(); i++ {
			d.value(v.Index(i), depth)
		}
	default:
		d.fail(notWanted)
	}
}

// fields reads a struct that is an array of its fields.
func (d *decoder) fields(v reflect.Value, count, depth int) {
	p := planOf(v.Type())
	if p.err != nil || !p.array || count != len(p.fields) {
		d.fail(notWanted)
		return
	}
	for i := range p.fields {
		d.value(v.FieldByIndex(p.fields[i].index), depth)
	}
}

func (d *decoder) mapping(v reflect.Value, count, depth int) {
	if !d.deeper(depth) {
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		d.keyed(v, count, depth)
	case reflect.Map:
		out := reflect.MakeMapWithSize(v.Type(), min(count, 64))
		for range count {
			key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
			d.value(key, depth)
			d.value(value, depth)
			if d.err != nil {
				return
			}
			out.SetMapIndex(key, value)
		}
		if out.Len() != count {
			d.fail("a key twice")
		}
		v.Set(out)
	default:
		d.fail(notWanted)
	}
}

// keyed reads a struct that is a map of its fields. Every key comes once, also those that are passed over.
func (d *decoder) keyed(v reflect.Value, count, depth int) {
	p := planOf(v.Type())
	if p.err != nil || p.array {
		d.fail(notWanted)
		return
	}
	seen := make([]bool, len(p.fields))
	var others map[string]bool
	for range count {
		key := d.key()
		if d.err != nil {
			return
		}
		at := p.find(key)
		switch {
		case at >= 0 && seen[at], at < 0 && others[string(key)]:
			d.fail("a key twice")
		case at >= 0:
			seen[at] = true
			d.value(v.FieldByIndex(p.fields[at].index), depth)
		case d.strict:
			d.fail("a field that is not known")
		default:
			if others == nil {
				others = map[string]bool{}
			}
			others[string(key)] = true
			d.skip(depth)
		}
	}
}

// key reads a map's key, an integer or a text, and gives it in its shortest encoding.
func (d *decoder) key() []byte {
	e := encoder{}
	switch kind, _, argument := d.head(); {
	case d.err != nil:
	case (kind == kindUint || kind == kindNegint) && argument <= math.MaxInt64:
		e.head(kind, argument)
	case kind == kindText:
		b := d.take(int(argument))
		if !utf8.Valid(b) {
			d.fail("a text that is not UTF-8")
		}
		e.text(string(b))
	default:
		d.fail("a key that is neither a text nor a number that fits")
	}
	return e.out
}

// skip passes one item over, and checks that it is well formed.
func (d *decoder) skip(depth int) {
	kind, low, argument := d.head()
	switch {
	case d.err != nil:
	case kind == kindBytes:
		d.take(int(argument))
	case kind == kindText:
		if !utf8.Valid(d.take(int(argument))) {
			d.fail("a text that is not UTF-8")
		}
	case kind == kindArray:
		for i := uint64(0); i < argument && d.deeper(depth+1); i++ {
			d.skip(depth + 1)
		}
	case kind == kindMap:
		d.skipPairs(int(argument), depth+1)
	case kind == kindSimple && (low < simpleFalse || low == 24):
		d.fail("a simple value that means nothing here")
	}
}

func (d *decoder) skipPairs(count, depth int) {
	seen := map[string]bool{}
	for i := 0; i < count && d.deeper(depth); i++ {
		begin := d.at
		d.skip(depth)
		if d.err != nil {
			return
		}
		key := string(d.in[begin:d.at])
		if seen[key] {
			d.fail("a key twice")
		}
		seen[key] = true
		d.skip(depth)
	}
}

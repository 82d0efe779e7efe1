package codec

import (
	"bytes"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/fxamacker/cbor/v2"
	"pgregory.net/rapid"
)

// The library that this package is held against, set to the same rules.
var (
	theirs = func() cbor.EncMode {
		options := cbor.CoreDetEncOptions()
		options.NilContainers = cbor.NilContainerAsEmpty
		mode, err := options.EncMode()
		if err != nil {
			panic(err)
		}
		return mode
	}()
	theirStrict = theirDecoder(cbor.ExtraDecErrorUnknownField)
	theirOpen   = theirDecoder(cbor.ExtraDecErrorNone)
)

func theirDecoder(unknown cbor.ExtraDecErrorCond) cbor.DecMode {
	mode, err := cbor.DecOptions{
		DupMapKey: cbor.DupMapKeyEnforcedAPF, IndefLength: cbor.IndefLengthForbidden, TagsMd: cbor.TagsForbidden,
		MaxNestedLevels: maxDepth, MaxArrayElements: maxElements, MaxMapPairs: maxPairs,
		ExtraReturnErrors: unknown, UTF8: cbor.UTF8RejectInvalid, FieldNameMatching: cbor.FieldNameMatchingCaseSensitive,
	}.DecMode()
	if err != nil {
		panic(err)
	}
	return mode
}

type id [4]byte

type inner struct {
	_    struct{} `cbor:",toarray"`
	ID   id
	Text string
	Some *uint16
}

type embedded struct {
	Deep  int8   `cbor:"deep"`
	Bytes []byte `cbor:"bytes,omitempty"`
}

type everything struct {
	embedded
	Unsigned uint64           `cbor:"1,keyasint"`
	Signed   int64            `cbor:"2,keyasint"`
	Small    uint8            `cbor:"300,keyasint,omitempty"`
	Number   float64          `cbor:"number"`
	Yes      bool             `cbor:"yes"`
	Text     string           `cbor:"t,omitempty"`
	List     []inner          `cbor:"list"`
	One      *inner           `cbor:"one,omitempty"`
	Blob     *[]byte          `cbor:"blob"`
	Names    map[string]int32 `cbor:"names"`
	Counts   map[id]uint64    `cbor:"counts"`
	Numbers  [3]int16         `cbor:"numbers"`
	Strings  []string         `cbor:"strings"`
	hidden   int              //lint:ignore U1000 unexported fields are not encoded
}

func some(t *rapid.T) everything {
	bytes := rapid.SliceOfN(rapid.Byte(), 0, 300)
	four := rapid.Custom(func(t *rapid.T) id { return id(rapid.SliceOfN(rapid.Byte(), 4, 4).Draw(t, "id")) })
	in := rapid.Custom(func(t *rapid.T) inner {
		return inner{ID: four.Draw(t, "id"), Text: rapid.String().Draw(t, "text"), Some: rapid.Ptr(rapid.Uint16(), true).Draw(t, "some")}
	})
	blob := bytes.Draw(t, "blob")
	e := everything{
		embedded: embedded{rapid.Int8().Draw(t, "deep"), bytes.Draw(t, "bytes")},
		Unsigned: rapid.Uint64().Draw(t, "unsigned"), Signed: rapid.Int64().Draw(t, "signed"), Small: rapid.Uint8().Draw(t, "small"),
		Number: number().Draw(t, "number"), Yes: rapid.Bool().Draw(t, "yes"), Text: rapid.String().Draw(t, "text"),
		List: rapid.SliceOfN(in, 0, 30).Draw(t, "list"), Names: rapid.MapOfN(rapid.String(), rapid.Int32(), 0, 30).Draw(t, "names"),
		Counts:  rapid.MapOfN(four, rapid.Uint64(), 0, 5).Draw(t, "counts"),
		Numbers: [3]int16(rapid.SliceOfN(rapid.Int16(), 3, 3).Draw(t, "numbers")), Strings: rapid.SliceOf(rapid.String()).Draw(t, "strings"),
	}
	if rapid.Bool().Draw(t, "has blob") {
		e.Blob = &blob
	}
	if rapid.Bool().Draw(t, "has one") {
		one := in.Draw(t, "one")
		e.One = &one
	}
	return e
}

// number is any float, those that have a shorter form among them.
func number() *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64(), rapid.Map(rapid.Float32(), func(x float32) float64 { return float64(x) }),
		rapid.Map(rapid.Uint16(), fromHalf), rapid.Map(rapid.IntRange(-3000, 3000), func(n int) float64 { return float64(n) / 4 }),
		rapid.SampledFrom([]float64{0, math.Copysign(0, -1), math.Inf(1), math.Inf(-1), math.NaN(), 65504, 65505, 5.960464477539063e-8, 2.9e-8, math.MaxFloat64}))
}

func TestBytesAreThoseOfTheLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := some(t)
		want, err := theirs.Marshal(value)
		if err != nil {
			t.Fatal(err)
		}
		if got := MustMarshal(value); !bytes.Equal(got, want) {
			t.Fatalf("encoded as\n%x, not\n%x", got, want)
		}
		if got := MustMarshal(&value); !bytes.Equal(got, want) {
			t.Fatalf("by its pointer encoded as\n%x, not\n%x", got, want)
		}
		var back everything
		if err := Unmarshal(want, &back); err != nil {
			t.Fatal(err)
		}
		if again := MustMarshal(back); !bytes.Equal(again, want) {
			t.Fatalf("and back as\n%x, not\n%x", again, want)
		}
	})
}

func TestLooseValuesAreThoseOfTheLibrary(t *testing.T) {
	for _, value := range []any{
		nil, 0, 23, 24, 255, 256, 65535, 65536, uint64(math.MaxUint64), -1, -24, -25, int64(math.MinInt64), "", "a", true, false,
		[]byte(nil), []byte{1}, [3]byte{1, 2, 3}, []int(nil), map[string]int(nil), []any{1, "a", []byte{2}, nil, id{9}}, 1.5, float32(0.1), 1e300,
		map[int64]string{3: "c", -1: "m", 300: "x"}, struct{}{}, []Raw{{0x01}, nil}, (*int)(nil), []*string{nil},
	} {
		want, err := theirs.Marshal(fixRaw(value))
		if err != nil {
			t.Fatal(err)
		}
		if got, err := Marshal(value); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%#v is %x (%v), not %x", value, got, err, want)
		}
	}
}

// fixRaw gives the library its own type of raw messages.
func fixRaw(value any) any {
	if raws, ok := value.([]Raw); ok {
		var out []cbor.RawMessage
		for _, raw := range raws {
			out = append(out, cbor.RawMessage(raw))
		}
		return out
	}
	return value
}

func TestWhatHasNoEncoding(t *testing.T) {
	for _, value := range []any{make(chan int), func() {}, []any{complex(1, 2)}, map[string]any{"a": make(chan int)}, struct {
		A int `cbor:"a"`
		B int `cbor:"a"`
	}{}} {
		var wrong *TypeError
		if _, err := Marshal(value); !errors.As(err, &wrong) {
			t.Errorf("%T: %v", value, err)
		}
	}
}

func TestRefusedBytes(t *testing.T) {
	deep := func(n int) []byte { return append(bytes.Repeat([]byte{0x81}, n), 0x01) }
	for name, c := range map[string]struct {
		bytes string
		into  any
	}{
		"nothing":                   {"", new(int)},
		"half an argument":          {"\x19\x01", new(int)},
		"bytes left over":           {"\x01\x01", new(int)},
		"an indefinite string":      {"\x5f\x41\x01\xff", new([]byte)},
		"an indefinite list":        {"\x9f\x01\xff", new([]int)},
		"a tag":                     {"\xc1\x01", new(int)},
		"a tag that is passed over": {"\xa1\x61x\xc1\x01", new(embedded)},
		"a reserved form":           {"\x1c", new(int)},
		"a long string":             {"\x5b\xff\xff\xff\xff\xff\xff\xff\xff", new([]byte)},
		"a long list":               {"\x9b\xff\xff\xff\xff\xff\xff\xff\xff", new([]int)},
		"a long map":                {"\xbb\xff\xff\xff\xff\xff\xff\xff\xff", new(map[string]int)},
		"not UTF-8":                 {"\x61\xff", new(string)},
		"a key twice":               {"\xa2\x64deep\x01\x64deep\x02", new(embedded)},
		"a key twice, longer":       {"\xa2\x64deep\x01\x78\x04deep\x02", new(embedded)},
		"an unknown key":            {"\xa1\x61x\x02", new(embedded)},
		"a key twice in a map":      {"\xa2\x61x\x02\x61x\x02", new(map[string]int)},
		"too large a number":        {"\x19\x01\x00", new(uint8)},
		"too small a number":        {"\x20", new(uint64)},
		"a number for a text":       {"\x01", new(string)},
		"a text for bytes":          {"\x61a", new([]byte)},
		"a float for a number":      {"\xf9\x3c\x00", new(int)},
		"too short an array":        {"\x43abc", new(id)},
		"too long an array":         {"\x45abcde", new(id)},
		"a list too short":          {"\x81\x44abcd", new(inner)},
		"a map for a list":          {"\xa0", new(inner)},
		"a list for a map":          {"\x80", new(embedded)},
		"a simple value":            {"\xf0", new(bool)},
		"nested too deeply":         {string(deep(13)), new(Raw)},
	} {
		var wrong *Error
		if err := Unmarshal([]byte(c.bytes), c.into); !errors.As(err, &wrong) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := Unmarshal(deep(12), new(Raw)); err != nil {
		t.Errorf("nested as deeply as may be: %v", err)
	}
	if err := UnmarshalOpen([]byte("\xa1\x61x\xa1\x02\x83\x01\x41a\xf6"), new(embedded)); err != nil {
		t.Errorf("an unknown key, openly: %v", err)
	}
	if err := UnmarshalOpen([]byte("\xa2\x61x\x01\x61x\x01"), new(embedded)); err == nil {
		t.Error("an unknown key twice, openly")
	}
	if err := Unmarshal([]byte{1}, 7); err == nil || !strings.Contains(err.Error(), "pointer") {
		t.Errorf("into no pointer: %v", err)
	}
}

func TestHalvesAreExact(t *testing.T) {
	for half := range 1 << 16 {
		x := fromHalf(uint16(half))
		if x != x {
			continue
		}
		if back, exact := toHalf(float32(x)); !exact || back != uint16(half) {
			t.Fatalf("%v is half %04x, not %04x", x, back, half)
		}
	}
}

// FuzzDecode holds decoding against the library: what this package takes the library takes, as the same value; and what it
// refuses, the library refuses too, but for byte arrays of another length, which the library cuts or fills up.
func FuzzDecode(f *testing.F) {
	rapid.Check(f, func(t *rapid.T) { f.Add(MustMarshal(some(t))) })
	f.Add([]byte("\xa1\x01\xf6"))
	f.Fuzz(func(t *testing.T, b []byte) {
		compare[everything](t, b, Unmarshal, theirStrict.Unmarshal)
		compare[everything](t, b, UnmarshalOpen, theirOpen.Unmarshal)
		compare[map[string]string](t, b, Unmarshal, theirStrict.Unmarshal)
		compare[[]float64](t, b, Unmarshal, theirStrict.Unmarshal)
	})
}

func compare[T any](t *testing.T, b []byte, ours, library func([]byte, any) error) {
	var mine, other T
	err, otherErr := ours(b, &mine), library(b, &other)
	if err == nil && otherErr != nil {
		t.Fatalf("%x is taken as %+v; the library says %v", b, mine, otherErr)
	}
	if err != nil {
		if otherErr == nil && reflect.TypeFor[T]() != reflect.TypeFor[everything]() {
			t.Fatalf("%x is refused (%v); the library takes it as %+v", b, err, other)
		}
		return
	}
	if x, y := MustMarshal(mine), MustMarshal(other); !bytes.Equal(x, y) {
		t.Fatalf("%x is\n%x, and to the library\n%x", b, x, y)
	}
}

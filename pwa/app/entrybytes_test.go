package app

import (
	"reflect"
	"testing"
)

// full sets every field of a value to something that is not its zero.
func full(v reflect.Value, seed *int) {
	*seed++
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				full(v.Field(i), seed)
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			full(v.Index(i), seed)
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		full(v.Index(0), seed)
		full(v.Index(1), seed)
	case reflect.String:
		v.SetString("word " + decimal(*seed))
	case reflect.Float64:
		v.SetFloat(float64(*seed) / 7)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Uint8:
		v.SetUint(uint64(*seed%255) + 1)
	default:
		v.SetInt(int64(*seed) * -300)
	}
}

func filledEntry() *entry {
	e, seed := new(entry), 0
	full(reflect.ValueOf(e).Elem(), &seed)
	e.Digest.Book, e.Digest.Brew = e.Book.String(), e.Doc.String()
	return e
}

// A field that walk forgets comes back empty.
func TestAnEntryComesBackWhole(t *testing.T) {
	for _, e := range []*entry{filledEntry(), {Digest: BrewDigest{Book: (&entry{}).Book.String(), Brew: (&entry{}).Doc.String()}}} {
		if got := decodeEntry(string(e.encode())); !reflect.DeepEqual(got, e) {
			t.Errorf("%+v\nis not\n%+v", got, e)
		}
	}
}

func FuzzEntry(f *testing.F) {
	whole := filledEntry().encode()
	for _, length := range []int{0, 1, 40, len(whole) - 1, len(whole)} {
		f.Add(whole[:length])
	}
	f.Fuzz(func(t *testing.T, value []byte) {
		e := decodeEntry(string(value))
		if e == nil {
			return
		}
		if again := decodeEntry(string(e.encode())); again == nil || again.Facts.Text != e.Facts.Text || len(again.Items) != len(e.Items) {
			t.Fatalf("%x reads as %+v, and that as %+v", value, e, again)
		}
	})
}

package app

import (
	"bytes"
	"reflect"
	"testing"

	"hushcup/sync/codec"
)

// filled sets every field of a value to something, so that one that is forgotten on the way shows.
func filled(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).Name != "_" {
				filled(v.Field(i))
			}
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		filled(v.Index(0))
	case reflect.Array:
		for i := range v.Len() {
			filled(v.Index(i))
		}
	case reflect.String:
		v.SetString("bergamot")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Float64:
		v.SetFloat(1.5)
	case reflect.Int, reflect.Int64:
		v.SetInt(7)
	case reflect.Uint8, reflect.Uint32, reflect.Uint64:
		v.SetUint(3)
	default:
		panic(v.Kind().String())
	}
}

// TestEveryFieldOfABrewGoesOutAndComesBack: whoever adds a field to what is kept of a brew adds it to the file as well. Of its
// clock only the doubt is left, and the book of its parent is found anew.
func TestEveryFieldOfABrewGoesOutAndComesBack(t *testing.T) {
	var content brewContent
	filled(reflect.ValueOf(&content).Elem())
	content.State, content.Clock, content.Parent = brewDone, clockContent{Doubtful: true}, parentContent{}
	back := content.data("id").content()
	if want, got := codec.MustMarshal(content), codec.MustMarshal(back); !bytes.Equal(got, want) {
		t.Errorf("came back as\n%+v, not\n%+v", back, content)
	}
}

// TestEveryFieldOfAnItemGoesOut: an item is kept as it crosses the bridge, and the file has it just so.
func TestEveryFieldOfAnItemGoesOut(t *testing.T) {
	for _, kind := range words("ItemKind") {
		record := emptyRecord(kind)
		item, id := record.given()
		if item == nil {
			t.Errorf("a file has no place for a %s", kind)
			continue
		}
		filled(reflect.ValueOf(item).Elem())
		back, less, err := decodeRecord(codec.MustMarshal(record))
		if err != nil || less || !bytes.Equal(codec.MustMarshal(back), codec.MustMarshal(record)) {
			t.Errorf("%s came back as %+v (%v)", *id, back, err)
		}
	}
}

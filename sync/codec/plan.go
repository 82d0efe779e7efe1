package codec

import (
	"reflect"
	"sort"
	"strconv"
	"strings"
	"sync"
)

// plan is how a struct is encoded, worked out once for each type.
type plan struct {
	array  bool
	fields []field // of an array in their order, of a map in the order of their encoded keys
	err    error   // the struct cannot be encoded
}

type field struct {
	index []int
	key   []byte // encoded; nil in an array
	omit  bool
}

var plans sync.Map // reflect.Type -> *plan

func planOf(t reflect.Type) *plan {
	if p, ok := plans.Load(t); ok {
		return p.(*plan)
	}
	p := &plan{}
	p.add(t, nil)
	if !p.array {
		sort.Slice(p.fields, func(i, j int) bool { return string(p.fields[i].key) < string(p.fields[j].key) })
		for i := 1; i < len(p.fields); i++ {
			if string(p.fields[i].key) == string(p.fields[i-1].key) {
				p.err = typeError(t, "two fields have one key")
			}
		}
	}
	plans.Store(t, p)
	return p
}

// add takes the fields of a struct, and those of embedded structs as its own.
func (p *plan) add(t reflect.Type, path []int) {
	for i := 0; i < t.NumField(); i++ {
		f := t.Field(i)
		tag := f.Tag.Get("cbor")
		index := append(append([]int(nil), path...), i)
		switch {
		case f.Name == "_":
			p.array = p.array || len(path) == 0 && tag == ",toarray"
		case f.Anonymous && tag == "" && f.Type.Kind() == reflect.Struct:
			p.add(f.Type, index)
		case f.PkgPath == "" && tag != "-":
			p.addField(f, tag, index)
		}
	}
}

func (p *plan) addField(f reflect.StructField, tag string, index []int) {
	name, options, _ := strings.Cut(tag, ",")
	if name == "" {
		name = f.Name
	}
	e := encoder{}
	number, err := strconv.ParseUint(name, 10, 32)
	switch {
	case strings.Contains(options, "keyasint") && err == nil:
		e.head(kindUint, number)
	default:
		e.text(name)
	}
	p.fields = append(p.fields, field{index: index, key: e.out, omit: strings.Contains(options, "omitempty")})
}

// find looks a map's field up by its encoded key.
func (p *plan) find(key []byte) int {
	at := sort.Search(len(p.fields), func(i int) bool { return string(p.fields[i].key) >= string(key) })
	if at < len(p.fields) && string(p.fields[at].key) == string(key) {
		return at
	}
	return -1
}

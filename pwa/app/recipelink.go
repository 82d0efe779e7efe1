package app

import (
	"encoding/base64"
	"hash/crc32"
	"strings"

	"hushcup/sync/codec"
)

// A recipe travels in the fragment of a link, which browsers send to no server:
//
//	https://cup.example/recipe#1<base64url of four bytes of CRC-32 and the deterministic CBOR of recipeLinkContent>
//
// The 1 is the version of this form. Whoever has the link has the recipe; nothing else is in it.
const recipeLinkVersion = "1"

// mostRecipeLink bounds what is read: a long recipe takes about 1,500 letters.
const mostRecipeLink = 8000

type recipeLinkContent struct {
	Title    string        `cbor:"1,keyasint"`
	Geometry string        `cbor:"2,keyasint"`
	Dose     float64       `cbor:"3,keyasint"`
	Ratio    float64       `cbor:"4,keyasint"`
	Kettle   float64       `cbor:"5,keyasint"`
	Grind    string        `cbor:"6,keyasint"`
	Filter   string        `cbor:"7,keyasint"`
	Steps    []stepContent `cbor:"8,keyasint"`
	Note     string        `cbor:"9,keyasint"`
}

func (a *App) linkRecipe(args ItemName) (RecipeLink, *Error) {
	r, ok := a.recipe(args.ID)
	if !ok {
		return RecipeLink{}, unknown("recipe")
	}
	plain := codec.MustMarshal(recipeLinkContent{r.Title, r.Geometry, r.Dose, r.Ratio, r.Kettle, r.Grind, r.Filter, keptSteps(r.Steps), r.Note})
	sum := crc32.ChecksumIEEE(plain)
	packed := append([]byte{byte(sum >> 24), byte(sum >> 16), byte(sum >> 8), byte(sum)}, plain...)
	return RecipeLink{Link: a.link("recipe", recipeLinkVersion+base64.RawURLEncoding.EncodeToString(packed))}, nil
}

// readRecipe reads a link or what stands behind its #. The recipe is checked as one typed by hand.
func (a *App) readRecipe(args RecipeText) (r Recipe, err *Error) {
	secret := strings.Join(strings.Fields(args.Text), "")
	if _, behind, found := strings.Cut(secret, "#"); found {
		secret = behind
	}
	damaged := refuse("damaged", "text", "this is no recipe, or a part of the link is missing")
	switch {
	case secret == "" || len(secret) > mostRecipeLink:
		return r, damaged
	case secret[:1] > recipeLinkVersion && secret[:1] <= "9":
		return r, refuse("newer", "text", "this recipe was made with a newer version of the app")
	case secret[:1] != recipeLinkVersion:
		return r, damaged
	}
	packed, fault := base64.RawURLEncoding.DecodeString(secret[1:])
	if fault != nil || len(packed) < 5 {
		return r, damaged
	}
	sum := uint32(packed[0])<<24 | uint32(packed[1])<<16 | uint32(packed[2])<<8 | uint32(packed[3])
	var c recipeLinkContent
	if crc32.ChecksumIEEE(packed[4:]) != sum || codec.UnmarshalOpen(packed[4:], &c) != nil {
		return r, damaged
	}
	r = Recipe{Title: c.Title, Geometry: c.Geometry, Dose: c.Dose, Ratio: c.Ratio, Kettle: c.Kettle, Grind: c.Grind, Filter: c.Filter,
		Steps: shownSteps(c.Steps), Note: c.Note}
	return r, withText(r.check())
}

// withText names the field that was pasted into.
func withText(err *Error) *Error {
	if err == nil {
		return nil
	}
	return withField(err, "text")
}

package app

import (
	"errors"
	"strconv"
	"strings"
	"unicode/utf8"

	"hushcup/pwa/core/atlas"
	"hushcup/pwa/core/guess"
	"hushcup/sync/club"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
)

// Codes of the app's own refusals; those of the packages below pass through unchanged.
const (
	CodeUnknown    = "unknown"     // there is nothing of that name
	CodeRequired   = "required"    // a field is empty that must not be
	CodeTooLong    = "too-long"    // a text is longer than its field allows
	CodeTooMany    = "too-many"    // a list is longer than its field allows
	CodeImpossible = "impossible"  // a value that cannot be
	CodeSurprising = "surprising"  // a value that is hardly meant; repeat it with the field in sure
	CodeNotAllowed = "not-allowed" // somebody else may
	CodeNotYet     = "not-yet"     // later
	CodeAlready    = "already"     // it is done, and once is all
	CodeOtherHost  = "other-host"  // the book lives on a server that this app did not come from
)

func refuse(code, field, text string) *Error { return &Error{Code: code, Field: field, Text: text} }

func unknown(field string) *Error { return refuse(CodeUnknown, field, "there is no such "+field) }

func notAllowed(text string) *Error { return refuse(CodeNotAllowed, "", text) }

// asError carries a refusal of the packages below over the bridge.
func asError(err error) *Error {
	var (
		own     *Error
		byClub  *club.Void
		byRep   *replica.Error
		bySeal  *seal.Error
		byAtlas *atlas.Error
		byGuess *guess.Problem
	)
	switch {
	case err == nil:
		return nil
	case errors.As(err, &own):
		return own
	case errors.As(err, &byRep):
		return &Error{Code: byRep.Code, Text: byRep.Text, Hint: byRep.Hint}
	case errors.As(err, &byClub):
		return &Error{Code: byClub.Code, Text: byClub.Text, Hint: byClub.Hint}
	case errors.As(err, &bySeal):
		return &Error{Code: bySeal.Code, Text: bySeal.Text}
	case errors.As(err, &byAtlas):
		return &Error{Code: byAtlas.Code, Text: byAtlas.Error(), Field: byAtlas.Field}
	case errors.As(err, &byGuess):
		return &Error{Code: byGuess.Code, Text: byGuess.Error(), Field: string(byGuess.Node)}
	}
	return &Error{Code: "fault", Text: err.Error()}
}

// text checks a text of a person: trimmed, at most limit letters, and with required at least one.
func text(field string, value *string, limit int, required bool) *Error {
	*value = strings.TrimSpace(*value)
	switch {
	case !utf8.ValidString(*value):
		return refuse(CodeImpossible, field, "the text is not readable")
	case required && *value == "":
		return refuse(CodeRequired, field, "this cannot be empty")
	case utf8.RuneCountInString(*value) > limit:
		return refuse(CodeTooLong, field, "at most "+strconv.Itoa(limit)+" letters")
	}
	return nil
}

func tooMany(field string, count, limit int) *Error {
	if count > limit {
		return refuse(CodeTooMany, field, "at most "+strconv.Itoa(limit))
	}
	return nil
}

// oneOf checks a code against its closed list.
func oneOf(field, value string, set string) *Error {
	for _, words := range wordSets {
		if words.Name != set {
			continue
		}
		for _, word := range words.Words {
			if word == value {
				return nil
			}
		}
	}
	return refuse(CodeImpossible, field, strconv.Quote(value)+" is not one of the choices")
}

// first returns the first refusal.
func first(errs ...*Error) *Error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

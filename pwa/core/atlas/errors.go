package atlas

import "strconv"

// Codes of errors; they never change.
const (
	CodeUnknown  = "unknown"          // no such facet or node
	CodeTaken    = "taken"            // the id exists already
	CodeBadSlug  = "bad-slug"         // not lower case letters, digits and hyphens
	CodeBadShare = "bad-share"        // a share outside 1 to 9,999
	CodeNothing  = "nothing-left"     // a narrowing leaves no coffee at all
	CodeBadBytes = "bad-prior-bytes"  // not what Encode wrote
	CodeOther    = "prior-of-another" // a prior that belongs to another atlas
)

// An Error says which field was refused and why.
type Error struct {
	Code  string // stable
	Field string // what was refused: "node", "share", ...
	Value string // what came from outside
}

func (e *Error) Error() string {
	return e.Field + " " + strconv.Quote(e.Value) + " refused: " + e.Code
}

func unknown(field, value string) error {
	return &Error{Code: CodeUnknown, Field: field, Value: value}
}

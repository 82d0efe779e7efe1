package club

import "hushcup/sync/oplog"

// Pass is what a void entry does: it moves the chains on, and closes what its time closes.
func (s *State) Pass(e oplog.Entry) { s.advance(&e) }

// Codes lists the codes of all rules.
func Codes() (codes []string) {
	for _, line := range Table() {
		codes = append(codes, line.Code)
	}
	return codes
}

// ErrorOf is what a code means to a phone.
func ErrorOf(code string) error {
	for r := fine + 1; r < ruleCount; r++ {
		if table[r].Code == code {
			return r.err()
		}
	}
	return nil
}

package app

import (
	"hushcup/sync/codec"
	"hushcup/sync/spell"
)

// StepBytes is Step over encoded input and effects. A fault of the core itself ends as a FatalEffect and leaves what is on
// the disk whole: nothing was acknowledged that is not there. After it the App answers nothing else.
func (a *App) StepBytes(in []byte) (out []byte) {
	defer func() {
		if fault := recover(); fault != nil {
			a.broken = true
			out = codec.MustMarshal([]Effect{fatal("core-fault", faultText(fault))})
		}
	}()
	if a.broken {
		return codec.MustMarshal([]Effect{fatal("core-fault", "the core has stopped")})
	}
	var input Input
	if err := codec.Unmarshal(in, &input); err != nil {
		return codec.MustMarshal([]Effect{fatal("bad-input", err.Error())})
	}
	return codec.MustMarshal(a.Step(input))
}

func fatal(code, text string) FatalEffect { return FatalEffect{Kind: "fatal", Code: code, Text: text} }

// faultText is what a panic was about.
func faultText(fault any) string { return spell.Text("%v", fault) }

package cup

import (
	"math"
	"strconv"
)

// A Reading is a temperature in °C, so many seconds after the pour.
type Reading struct {
	Seconds float64
	Celsius float64
}

// A Cooling predicts a cup by Newton's law: what it is above the room falls by
// the same part in every second. Stirring, a lid and evaporation bend it, so it
// is a guide, calibrated for one vessel and one fill.
type Cooling struct {
	Room float64 // °C
	Rate float64 // a second
	From Reading // the newer of the two readings
}

// A CoolingError says which reading cannot be.
type CoolingError struct {
	Field string // "room", "first", "second"
	Value float64
}

func (e *CoolingError) Error() string {
	return e.Field + " of " + strconv.FormatFloat(e.Value, 'g', 4, 64) + " °C cannot be used for cooling"
}

// apart is the least fall between two readings from which a rate can be read.
const apart = 2.0

// Calibrate reads a vessel's rate from two readings and the room.
func Calibrate(room float64, first, second Reading) (Cooling, error) {
	switch {
	case !(room > -20 && room < 50):
		return Cooling{}, &CoolingError{"room", room}
	case !(first.Celsius > room+apart && first.Celsius <= 100):
		return Cooling{}, &CoolingError{"first", first.Celsius}
	case !(second.Seconds > first.Seconds+10 && second.Celsius > room && second.Celsius <= first.Celsius-apart):
		return Cooling{}, &CoolingError{"second", second.Celsius}
	}
	fall := math.Log((first.Celsius - room) / (second.Celsius - room))
	return Cooling{room, fall / (second.Seconds - first.Seconds), second}, nil
}

// Again returns the cooling of another cup in the same vessel, from one reading.
func (c Cooling) Again(room float64, now Reading) (Cooling, error) {
	if !(room > -20 && room < 50) {
		return Cooling{}, &CoolingError{"room", room}
	}
	if !(now.Celsius > room && now.Celsius <= 100) {
		return Cooling{}, &CoolingError{"first", now.Celsius}
	}
	return Cooling{room, c.Rate, now}, nil
}

// At returns the temperature so many seconds after the pour.
func (c Cooling) At(seconds float64) float64 {
	return c.Room + (c.From.Celsius-c.Room)*math.Exp(-c.Rate*(seconds-c.From.Seconds))
}

// When returns the seconds after the pour at which the cup reaches a
// temperature, and false when it never gets so cool.
func (c Cooling) When(celsius float64) (float64, bool) {
	if celsius <= c.Room || c.Rate <= 0 {
		return 0, false
	}
	return c.From.Seconds + math.Log((c.From.Celsius-c.Room)/(celsius-c.Room))/c.Rate, true
}

// HottestSip is the temperature, in °C, above which nobody is told to drink:
// very hot beverages, above 65 °C, are probably carcinogenic (IARC Monographs
// 116, 2018), and they scald.
const HottestSip = 65.0

// A Call is a moment to taste.
type Call struct {
	Stage   Stage
	Celsius float64
	Seconds float64
}

// Calls returns when the cup reaches 65, 55 and 45 °C and, within three degrees,
// the room; what lies above a warm room's temperature is left out.
func (c Cooling) Calls() (out []Call) {
	for _, call := range []Call{{Stage: Hot, Celsius: HottestSip}, {Stage: Warm, Celsius: 55}, {Stage: Warm, Celsius: 45}, {Stage: Cool, Celsius: c.Room + 3}} {
		if call.Stage != Cool && call.Celsius <= c.Room+3 {
			continue
		}
		if seconds, ok := c.When(call.Celsius); ok {
			call.Seconds = seconds
			out = append(out, call)
		}
	}
	return out
}

package demo

import "hushcup/pwa/app"

// water has the club agree on the spring that most of them draw from, and those say so who can brew with it.
func (c *club) water() {
	vega := c.people[0]
	c.saved(vega, app.CmdConcentrateSave, app.Concentrate{
		Name: "hardness drops", Litres: 0.25, Salts: []app.SaltGrams{{Salt: "magnesium-sulphate", Grams: 6}}, Note: "Never drunk; made anew every month.",
	})
	do[app.Nothing](c, vega, app.CmdClubWater, app.ClubWaterSet{
		Club: c.id, Target: &app.WaterTarget{Hardness: 112, Alkalinity: 100, Magnesium: -1}, Note: "The village spring as it comes.",
	})
	c.village.Advance(10_000)
	for name, says := range map[string]string{"Vega": "yes", "Altair": "yes", "Mira": "no"} {
		do[app.Nothing](c, c.named(name), app.CmdClubReach, app.ClubWaterSay{Club: c.id, Says: says})
	}
	c.village.Advance(10_000)
}

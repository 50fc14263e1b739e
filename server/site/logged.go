package site

import (
	"strconv"
	"strings"
)

// entry is an entry of the log, in words.
func (l tongue) entry(e logged) string {
	var list []string
	add := func(text, value string) {
		if value != "" {
			list = append(list, text)
		}
	}
	v := l.voice()
	add(l.says(eventNames[e.Event]), e.Event)
	add(l.says(behaviourNames[e.Behaviour]), e.Behaviour)
	add(v.Say("page_logged_salinity", e.Salinity), e.Salinity)
	add(v.Say("page_logged_temperature", asRead(e.Temperature, 1)), e.Temperature)
	add(v.Say("page_logged_volume", asRead(e.Volume, 2)), e.Volume)
	add(v.Say("page_logged_level", asRead(e.Level, 1)), e.Level)
	if e.Drops > 0 {
		list = append(list, v.Say("page_logged_drops", e.Drops, e.DropsIn))
	}
	add(e.Note, e.Note)
	return upperFirst(strings.Join(list, ", "))
}

// asRead rounds a quantity to the decimals of the instrument: 72 °F is stored as 22.222… °C.
func asRead(text string, decimals int) string {
	number, unit, _ := strings.Cut(text, " ")
	x, err := strconv.ParseFloat(number, 64)
	if err != nil { // with its uncertainty: as it was given
		return text
	}
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(x, 'f', decimals, 64), "0"), ".") + " " + unit
}

var eventNames = map[string]string{"stop": "drip stopped", "animals_look_wrong": "animals look wrong", "power_off": "power is off", "power_back": "power is back",
	"late": "came late", "clamp_touched": "clamp touched", "refilled": "filled up"}

var behaviourNames = map[string]string{"ok": "animals look well", "loss_of_balance": "they roll or lose balance", "gasping": "they gasp", "heavy_mucus": "they make slime", "not_feeding": "they refuse food", "moult": "one of them moults"}

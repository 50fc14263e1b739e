package render

// germanPictures name what charts and calendars show.
var germanPictures = sentences{
	"chart_plan":        "Salzgehalt von {0, number} auf {1, number} ppt",
	"chart_stopped":     "{0, name}, gestoppt",
	"goal_fullest":      "am vollsten, unter dem Rand",
	"goal_least":        "mindestens für die Tiere",
	"story_panel":       "{0, name}: von {1, name} auf {2, name}",
	"story_panel_wide":  "{0, name}: von {1, name} auf {2, name}, dazwischen {3, name} bis {4, name}",
	"story_after":       "nach {0}",
	"panel_salinity":    "Salzgehalt",
	"panel_volume":      "Volumen",
	"panel_temperature": "Temperatur",
	"panel_ammonia":     "NH3, vermutlich",
	"panel_nh3":         "Ammoniak (NH3)",
	"panel_o2":          "Sauerstoff",
	"panel_oxygen":      "Sauerstoff, vermutlich",
	"goal_release":      "nah genug zum Umsetzen",
	"goal_limit":        "Grenze, auch beim doppelten Verbrauch eingehalten",
	"axis_after_start":  "nach dem Start",
	"axis_by_clock":     "nach deiner Uhr",
	"chart_too_fast":    "zu schnell",
	"chart_now":         "jetzt",
	"calendar_name":     "Tiere umsetzen",
	"visit_act":         "Tiere: {0, name}",
	"visit_look":        "Tiere: nachsehen",
}

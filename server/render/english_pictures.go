package render

// pictureSentences name what charts and calendars show.
var pictureSentences = sentences{
	"chart_plan":        "Salinity from {0, number} to {1, number} ppt",
	"chart_stopped":     "{0, name}, stopped",
	"goal_fullest":      "fullest, under the rim",
	"goal_least":        "least water for the animals",
	"story_panel":       "{0, name} goes from {1, name} to {2, name}",
	"story_panel_wide":  "{0, name} goes from {1, name} to {2, name}, between {3, name} and {4, name}",
	"story_after":       "after {0}",
	"panel_salinity":    "Salinity",
	"panel_volume":      "Volume",
	"panel_temperature": "Temperature",
	"panel_ammonia":     "NH3, likely",
	"panel_nh3":         "Ammonia (NH3)",
	"panel_o2":          "Oxygen",
	"panel_oxygen":      "Oxygen, likely",
	"goal_release":      "close enough to release",
	"goal_limit":        "limit, kept at twice the likely use",
	"axis_after_start":  "after the start",
	"axis_by_clock":     "by your clock",
	"chart_too_fast":    "too fast",
	"chart_now":         "now",
	"calendar_name":     "Moving animals",
	"visit_act":         "Animals: {0, name}",
	"visit_look":        "Animals: look",
}

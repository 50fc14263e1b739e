package server

import (
	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/mixing"
	"saltlock/server/render"
)

// GetSaltMix answers GET /v1/mixes/salt.
func (s *Server) GetSaltMix(c echo.Context, p api.GetSaltMixParams) error {
	request := mixing.SaltRequest(p)
	batch, err := mixing.Salt(request)
	if err != nil {
		return err
	}
	return reply(c, new(request.WithDefaults()), &batch, view[*mixing.Batch]{lines: func(v render.Voice, b *mixing.Batch) []string {
		l := make(lines, 0, 8)
		l.add(v, "salt_mix", &b.Salt, &b.SourceWater, &b.FinalVolume, &b.PracticalSalinity)
		if b.Salt.Value > 0 {
			l.add(v, "salt_mix_hydrated", b.SaltHydrated)
		}
		l.notes(b.Warnings, b.Cautions)
		return l.most(6)
	}})
}

// GetBlend answers GET /v1/mixes/blend.
func (s *Server) GetBlend(c echo.Context, p api.GetBlendParams) error {
	request := mixing.BlendRequest(p)
	blend, err := mixing.BlendWaters(request)
	if err != nil {
		return err
	}
	return reply(c, new(request.WithDefaults()), &blend, view[*mixing.Blend]{lines: func(v render.Voice, b *mixing.Blend) []string {
		var l lines
		l.add(v, "blend", b.Volume, b.PracticalSalinity, b.Temperature)
		for i, w := range b.Waters {
			if w.Solved {
				l.add(v, "blend_solved", i+1, w.Volume)
			}
		}
		l.add(v, "blend_alkalinity", b.Alkalinity)
		l.add(v, "blend_ph", b.PH, b.PHInAir)
		l.notes(b.Warnings, b.Cautions)
		return l.most(6)
	}})
}

// GetWaterChange answers GET /v1/mixes/water-change.
func (s *Server) GetWaterChange(c echo.Context, p api.GetWaterChangeParams) error {
	request := mixing.WaterChangeRequest(p)
	change, err := mixing.Change(request)
	if err != nil {
		return err
	}
	return reply(c, new(request.WithDefaults()), &change, view[*mixing.WaterChange]{
		lines: func(v render.Voice, w *mixing.WaterChange) []string { return waterChangeLines(v, request, w) },
		rows:  func(w *mixing.WaterChange) any { return w.Steps },
	})
}

// waterChangeLines says one change as it is made, never the sum of several.
func waterChangeLines(v render.Voice, r mixing.WaterChangeRequest, w *mixing.WaterChange) []string {
	var l lines
	n := len(w.Steps)
	first, last := w.Steps[0], w.Steps[n-1]
	switch {
	case n == 1:
		l.add(v, "water_change", w.TakeOut, w.PutIn, w.NewWaterSalinity.Practical, w.SalinityAfter.Practical, r.Volume, r.Salinity)
		l.add(v, "water_change_salt", w.Salt, w.SourceWater)
	case w.Mode == mixing.Weekly: // each step has a new water of its own
		l.add(v, "water_change_unlike", r.Volume, r.Salinity, n)
		for i, s := range w.Steps {
			l.add(v, "water_change_step", i+1, s.TakeOut, s.PutIn, s.NewWaterSalinity.Practical, s.PracticalSalinity)
		}
		l.add(v, "water_change_salt_in_all", w.Salt, w.SourceWater)
	default:
		l.add(v, "water_change_repeated", r.Volume, r.Salinity, n, first.TakeOut, first.PutIn, first.NewWaterSalinity.Practical, first.PracticalSalinity, last.PracticalSalinity)
		l.add(v, "water_change_salt_in_all", w.Salt, w.SourceWater)
	}
	if w.SaltHydrated != nil {
		l[len(l)-1] += " " + v.Say("salt_mix_hydrated", w.SaltHydrated)
	}
	most := max(6, len(l)+4) + len(w.Warnings)
	l.notes(w.Warnings, w.Cautions)
	return l.most(most)
}

// GetTopOff answers GET /v1/mixes/top-off.
func (s *Server) GetTopOff(c echo.Context, p api.GetTopOffParams) error {
	request := mixing.TopOffRequest(p)
	topOff, err := mixing.TopOffTank(request)
	if err != nil {
		return err
	}
	return reply(c, new(request.WithDefaults()), &topOff, view[*mixing.TopOff]{lines: func(v render.Voice, t *mixing.TopOff) []string {
		var l lines
		l.add(v, "top_off", t.FreshWater)
		if t.SalinityNow != nil {
			l.add(v, "top_off_now", t.SalinityNow.Practical)
		}
		if t.SalinityAfter != nil {
			l.add(v, "top_off_after", t.SalinityAfter.Practical)
		}
		l.add(v, "top_off_drift", t.Drift)
		l.notes(t.Warnings, t.Cautions)
		return l.most(6)
	}})
}

package server

import (
	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/mixing"
	"saltlock/server/render"
)

// GetVesselVolume answers GET /v1/vessels/volume.
func (s *Server) GetVesselVolume(c echo.Context, p api.GetVesselVolumeParams) error {
	request := mixing.VesselRequest(p)
	vessel, err := mixing.NetVolume(request)
	if err != nil {
		return err
	}
	return reply(c, request.WithDefaults(), &vessel, view[*mixing.Vessel]{lines: func(v render.Voice, w *mixing.Vessel) []string {
		var l lines
		if w.NetVolume == w.GrossVolume {
			l.add(v, "vessel_to_the_rim", w.NetVolume)
		} else {
			l.add(v, "vessel", w.NetVolume, w.GrossVolume)
		}
		if request.Shape == mixing.Bucket {
			l.add(v, "bucket_level", w.VolumePerLevel)
		} else {
			l.add(v, "vessel_level", w.VolumePerLevel)
		}
		l.notes(w.Cautions, w.Warnings)
		return l.most(6)
	}})
}

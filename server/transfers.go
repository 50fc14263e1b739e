package server

import (
	"context"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
	"saltlock/server/render"
)

// GetTransferPlan answers GET /v1/transfers/plan: the query becomes the body
// of the POST, and one path is behind both.
func (s *Server) GetTransferPlan(c echo.Context) error {
	body, err := s.contract.plan.body(c.Get("asked").(*asked).query)
	if err != nil {
		return err
	}
	var request transfer.Request
	if err := decodeJSON(body, &request); err != nil {
		return err
	}
	return s.plan(c, request)
}

// PlanTransfer answers POST /v1/transfers/plan.
func (s *Server) PlanTransfer(c echo.Context) error {
	var request api.PlanTransferJSONRequestBody
	if _, err := decode(c, &request); err != nil {
		return err
	}
	return s.plan(c, request)
}

func (s *Server) plan(c echo.Context, request transfer.Request) error {
	for _, animals := range [][]transfer.Animal{request.Animals, request.HomeMates} {
		if err := s.know(c.Request().Context(), animals); err != nil {
			return err
		}
	}
	var plan transfer.Plan
	err := s.planned(c.Request().Context(), new(planTime), func(ctx context.Context) (err error) {
		plan, err = transfer.NewPlan(ctx, request)
		return err
	})
	if err != nil {
		return err
	}
	return reply(c, request.WithDefaults(), &plan, view[*transfer.Plan]{
		lines:  planLines,
		rows:   func(p *transfer.Plan) any { return p.Phases },
		chart:  planChart,
		events: func(p *transfer.Plan) ([]render.Event, error) { return planEvents(request, p) },
	})
}

// know looks up what the species table says of animals.
func (s *Server) know(ctx context.Context, animals []transfer.Animal) error {
	for i := range animals {
		a := &animals[i]
		if a.Species == nil {
			continue
		}
		t, err := s.store.Taxon(ctx, *a.Species)
		if err != nil {
			return err
		}
		var asked tolerance.LifeStage
		if a.Stage != nil {
			asked = *a.Stage
		}
		stage, _, err := t.StageFor(asked)
		if err != nil {
			return err
		}
		a.Known = &transfer.Known{Name: t.Name() + " (" + string(stage.Stage) + ")", Stage: stage, Hazards: t.Dangers(), Shape: t.Shape}
	}
	return nil
}

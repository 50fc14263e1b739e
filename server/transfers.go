package server

import (
	"context"
	"errors"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
	"saltlock/server/contract"
	"saltlock/server/render"
)

// GetTransferPlan answers GET /v1/transfers/plan: the query becomes the body of the POST, and the
// same code answers both.
func (s *Server) GetTransferPlan(c echo.Context) error {
	body, err := s.contract.Plan.Body(askedOf(c).Query)
	if err != nil {
		return err
	}
	var request transfer.Request
	if err := contract.DecodeJSON(body, &request); err != nil {
		return err
	}
	return s.plan(c, request)
}

// PlanTransfer answers POST /v1/transfers/plan.
func (s *Server) PlanTransfer(c echo.Context) error {
	var request api.PlanTransferJSONRequestBody
	if _, err := contract.Decode(c, &request); err != nil {
		return err
	}
	return s.plan(c, request)
}

func (s *Server) plan(c echo.Context, request transfer.Request) error {
	if err := s.knowAll(c.Request().Context(), &request, understanding(c)); err != nil {
		return err
	}
	var plan transfer.Plan
	err := s.planned(c.Request().Context(), s.newBudget(), func(ctx context.Context) (err error) {
		plan, err = s.newPlan(ctx, request)
		return err
	})
	if err != nil {
		return err
	}
	if askedOf(c).withoutCurve() {
		plan.Curve = []transfer.CurvePoint{}
	}
	return reply(c, request.WithDefaults(), &plan, view[*transfer.Plan]{
		lines:  func(v render.Voice, p *transfer.Plan) []string { return planLines(v, p, onClock(request)) },
		rows:   func(p *transfer.Plan) any { return p.Phases },
		chart:  planChart,
		events: func(v render.Voice, p *transfer.Plan) ([]render.Event, error) { return planEvents(v, request, p) },
	})
}

// onClock is the keeper's clock; nil without a start.
func onClock(r transfer.Request) func(hours float64) time.Time {
	if r.Start == nil {
		return nil
	}
	return r.Clock
}

// newPlan computes a plan and counts it.
func (s *Server) newPlan(ctx context.Context, request transfer.Request) (transfer.Plan, error) {
	plan, err := transfer.NewPlan(ctx, request)
	s.meters.plan(plan, err)
	return plan, err
}

// know looks up what the species table says about animals. It replaces their names by ids, so that
// a plan is stored and returned with ids, and calls said for each name. What was already looked up
// stays.
func (s *Server) know(ctx context.Context, where string, animals []transfer.Animal, said func(name string, t tolerance.Taxon)) error {
	var faults []error
	for i := range animals {
		a := &animals[i]
		if a.Species == nil || a.Known != nil {
			continue
		}
		at := where + "." + strconv.Itoa(i)
		t, err := s.named(ctx, at+".species", *a.Species)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		said(*a.Species, t)
		a.Species = &t.ID
		if a.Known, err = known(t, a.Stage); err != nil {
			faults = append(faults, &placedError{at + ".stage", err})
		}
	}
	return errors.Join(faults...)
}

// known is what a plan needs to know about a life stage of a species.
func known(t tolerance.Taxon, asked *tolerance.LifeStage) (*transfer.Known, error) {
	var stage tolerance.LifeStage
	if asked != nil {
		stage = *asked
	}
	found, _, err := t.StageFor(stage)
	if _, unknown := errors.AsType[*tolerance.StageError](err); unknown && t.LifeCycle.Crosses() {
		found, err = t.StageOfPassage(stage) // this decides more than a range
	}
	if err != nil {
		return nil, err
	}
	return &transfer.Known{Name: t.Name() + " (" + string(found.Stage) + ")", Stage: found, Of: &t, Hazards: t.Dangers(), Shape: t.Shape}, nil
}

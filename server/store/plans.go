package store

import (
	"encoding/json"
	"reflect"
	"sync"

	"saltlock/chem/transfer"
)

// planBytes is how many bytes of stored plans are remembered.
const planBytes = 8 << 20

// plans remembers plans by the lines they were stored as. Reading one takes longer than everything
// else about an entry in a log, and each entry needs the same one. The half that was not used goes
// first.
type plans struct {
	mu         sync.Mutex
	young, old map[string]*transfer.Plan
	size       int // of young
}

// read reads a plan, as a new copy for each caller: its sentences are filled in for each answer.
func (p *plans) read(line string) (*transfer.Plan, error) {
	plan := p.known(line)
	if plan == nil {
		plan = new(transfer.Plan)
		if err := json.Unmarshal([]byte(line), plan); err != nil {
			return nil, err
		}
		p.keep(line, plan)
	}
	return copied(reflect.ValueOf(plan)).Interface().(*transfer.Plan), nil
}

func (p *plans) known(line string) *transfer.Plan {
	p.mu.Lock()
	defer p.mu.Unlock()
	if plan, ok := p.young[line]; ok {
		return plan
	}
	plan, ok := p.old[line]
	if ok {
		p.add(line, plan)
	}
	return plan
}

func (p *plans) keep(line string, plan *transfer.Plan) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.add(line, plan)
}

func (p *plans) add(line string, plan *transfer.Plan) {
	if p.young == nil || p.size+len(line) > planBytes/2 {
		p.old, p.young, p.size = p.young, map[string]*transfer.Plan{}, 0
	}
	p.size += len(line)
	p.young[line] = plan
}

// copied is a copy of everything that can be changed through a value. Values in interfaces, and
// unexported fields of other packages, are shared: nobody changes those.
func copied(v reflect.Value) reflect.Value {
	if !changeable(v.Type()) {
		return v
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return v
		}
		c := reflect.New(v.Type().Elem())
		c.Elem().Set(copied(v.Elem()))
		return c
	case reflect.Slice:
		if v.IsNil() {
			return v
		}
		c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(c, v)
		if changeable(v.Type().Elem()) {
			for i := range v.Len() {
				c.Index(i).Set(copied(v.Index(i)))
			}
		}
		return c
	case reflect.Map:
		if v.IsNil() {
			return v
		}
		c := reflect.MakeMapWithSize(v.Type(), v.Len())
		for at := v.MapRange(); at.Next(); {
			c.SetMapIndex(at.Key(), copied(at.Value()))
		}
		return c
	}
	c := reflect.New(v.Type()).Elem()
	c.Set(v)
	for i := range v.NumField() {
		if f := v.Type().Field(i); f.IsExported() && changeable(f.Type) {
			c.Field(i).Set(copied(v.Field(i)))
		}
	}
	return c
}

var changeables sync.Map // of reflect.Type

// changeable reports whether something can be changed through a value of a type.
func changeable(t reflect.Type) bool {
	if known, ok := changeables.Load(t); ok {
		return known.(bool)
	}
	is := false
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map:
		is = true
	case reflect.Struct:
		for i := range t.NumField() {
			is = is || t.Field(i).IsExported() && changeable(t.Field(i).Type)
		}
	}
	changeables.Store(t, is)
	return is
}

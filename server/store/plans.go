package store

import (
	"encoding/json"
	"reflect"
	"sync"

	"saltlock/chem/transfer"
)

// planBytes is how many bytes of stored plans are remembered.
const planBytes = 8 << 20

// plans remembers plans by the lines that they were stored as. To read one takes longer
// than all else that an entry in a log asks for, and each entry asks for the same one.
// The half that was not asked for goes first.
type plans struct {
	mu         sync.Mutex
	young, old map[string]*transfer.Plan
	size       int // of young
}

// read reads a plan, as a copy of its own for whoever asks: what is said in it is filled
// in for each answer.
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

// copied is a copy of all that can be changed through a value. What lies in an interface,
// and fields of other packages that are not exported, are shared: nobody changes those.
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

package source

import (
	"fmt"
	"math"
	"reflect"
	"sort"
	"strings"
	"time"
)

// bind writes a parsed tree into a struct. Fields are found by their toml tag,
// with regard to case; a key without a field is a fault.
func (d *Doc) bind(tree map[string]any, into any) {
	d.table(tree, reflect.ValueOf(into).Elem(), "")
}

func (d *Doc) table(tree map[string]any, into reflect.Value, path string) {
	fields := map[string]int{}
	for i := 0; i < into.NumField(); i++ {
		tag, _, _ := strings.Cut(into.Type().Field(i).Tag.Get("toml"), ",")
		if tag != "" {
			fields[tag] = i
		}
	}
	for _, key := range sortedKeys(tree) {
		at := join(path, key)
		i, ok := fields[key]
		if !ok {
			d.Add(at, "the key is not known here", "known keys: "+strings.Join(sortedKeys(fields), ", "))
			continue
		}
		d.value(tree[key], into.Field(i), at)
	}
}

// value binds one value. What does not fit is noted and left at zero.
func (d *Doc) value(v any, into reflect.Value, at string) {
	switch into.Kind() {
	case reflect.Pointer:
		fresh := reflect.New(into.Type().Elem())
		before := len(d.Faults)
		d.value(v, fresh.Elem(), at)
		if len(d.Faults) == before {
			into.Set(fresh)
		}
	case reflect.Struct:
		if tree, ok := v.(map[string]any); ok {
			d.table(tree, into, at)
			return
		}
		d.wrong(v, "a table", at)
	case reflect.Map:
		tree, ok := v.(map[string]any)
		if !ok {
			d.wrong(v, "a table", at)
			return
		}
		m := reflect.MakeMap(into.Type())
		for _, key := range sortedKeys(tree) {
			item := reflect.New(into.Type().Elem()).Elem()
			d.value(tree[key], item, join(at, key))
			m.SetMapIndex(reflect.ValueOf(key), item)
		}
		into.Set(m)
	case reflect.Slice:
		d.slice(v, into, at)
	default:
		d.scalar(v, into, at)
	}
}

func (d *Doc) slice(v any, into reflect.Value, at string) {
	var items []any
	switch list := v.(type) {
	case []any:
		items = list
	case []map[string]any:
		for _, m := range list {
			items = append(items, m)
		}
	default:
		d.wrong(v, "a list", at)
		return
	}
	out := reflect.MakeSlice(into.Type(), len(items), len(items))
	for i, item := range items {
		d.value(item, out.Index(i), fmt.Sprintf("%s[%d]", at, i))
	}
	into.Set(out)
}

func (d *Doc) scalar(v any, into reflect.Value, at string) {
	switch into.Kind() {
	case reflect.String:
		d.text(v, into, at)
	case reflect.Bool:
		if b, ok := v.(bool); ok {
			into.SetBool(b)
			return
		}
		d.wrong(v, "true or false", at)
	case reflect.Int, reflect.Int64:
		if n, ok := v.(int64); ok {
			into.SetInt(n)
			return
		}
		d.wrong(v, "a whole number", at)
	case reflect.Float64:
		d.number(v, into, at)
	default:
		panic("source: field of kind " + into.Kind().String() + " at " + at)
	}
}

func (d *Doc) text(v any, into reflect.Value, at string) {
	switch s := v.(type) {
	case string:
		for _, r := range s {
			if Hidden(r) && r != '\n' {
				d.Add(at, fmt.Sprintf("the text has a control character (U+%04X)", r), "remove it")
				return
			}
		}
		into.SetString(s)
	case time.Time:
		into.SetString(s.Format(time.DateOnly))
	default:
		d.wrong(v, "a text in quotes", at)
	}
}

func (d *Doc) number(v any, into reflect.Value, at string) {
	switch n := v.(type) {
	case int64:
		into.SetFloat(float64(n))
	case float64:
		if math.IsNaN(n) || math.IsInf(n, 0) {
			d.Add(at, fmt.Sprintf("%v is not a number to reckon with", n), "give a plain decimal number")
			return
		}
		into.SetFloat(n)
	default:
		d.wrong(v, "a number", at)
	}
}

func (d *Doc) wrong(v any, want, at string) {
	d.Add(at, fmt.Sprintf("found %s", named(v)), "give "+want)
}

func named(v any) string {
	switch x := v.(type) {
	case string:
		return fmt.Sprintf("the text %q", x)
	case bool:
		return fmt.Sprint(x)
	case int64, float64:
		return fmt.Sprintf("the number %v", x)
	case time.Time:
		return "a date"
	case map[string]any:
		return "a table"
	}
	return "a list"
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

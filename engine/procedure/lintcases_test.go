package procedure

// lintCases holds a faulty file for each rule.
var lintCases = []lintCase{
	{"linewright_procedure = 1", "linewright_procedure = 2", `main.toml:1: linewright_procedure: edition 2 of the procedure file is not known
  begin the file with linewright_procedure = 1`},
	{"linewright_procedure = 1", "", `main.toml: this is no procedure file: the key linewright_procedure is missing
  begin the file with linewright_procedure = 1`},
	{`id = "main"`, `id = "Main"`, `main.toml:2: id: "Main" is no id
  use small letters, digits and -, starting with a letter`},
	{`id = "main"`, `id = "part"`, `main.toml:87: phase[2].include: "part" includes this procedure again
  take one of the includes out
part.toml:2: id: the id "part" stands in main.toml too
  give each procedure an id of its own`},
	{`edition = "1"`, `edition = ""`, `main.toml:3: edition: the edition is missing
  write edition = "1"; changing a step's id makes a new edition`},
	{`title.en = "Main"`, `title.de = "Main"`, `main.toml:4: title: the English text is missing
  title.en = "…"`},
	{`target = "line"`, `target = "sail"`, `main.toml:5: target: "sail" is no target
  write "line", "link", "brakes" or "wing"`},
	{`target = "line"`, `target = "link"
pair = true`, `main.toml:6: pair: only brakes, or a line and its twin, are a pair
  take pair out, or write target = "brakes" or "line"`},
	{`target = "line"`, `target = "line"
colour = "red"`, `main.toml:6: colour: the key is not known here
  known keys: bar, edition, finding, id, let, linewright_procedure, mends, order, pair, param, phase, purpose, puts_right, receives, shelf, source, table, target, title`},
	{`target = "line"`, `target = "line"
shelf = "top"`, `main.toml:6: shelf: "top" is no shelf
  write "look", "parts", "mend", "measure" or "back", or leave it out`},
	{`target = "line"`, "target = 3", `main.toml:5: target: found the number 3
  give a text in quotes
main.toml:5: target: "" is no target
  write "line", "link", "brakes" or "wing"`},
	{`type = "number"
optional`, `type = "length"
optional`, `main.toml:9: param[0].type: "length" is no type
  write "number", "text" or "list"`},
	{`name = "given"`, `name = "side"`, `main.toml:8: param[0].name: "side" has a meaning of its own
  choose another name`},
	{`name = "given"`, `name = "count"`, `main.toml:8: param[0].name: "count" has a meaning of its own
  choose another name`},
	{`name = "given"`, `name = "Given"`, `main.toml:8: param[0].name: "Given" is no id
  use small letters, digits and _, starting with a letter`},
	{`name = "twice"`, `name = "given"`, `main.toml:13: let[0].name: "given" is used twice
  give every step, let, param, phase and include a name of its own`},
	{`is = "len_a * 2"`, `is = "len_b * 2"`, `main.toml:14: let[0].is: "len_b" is not a value known here
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`is = "len_a * 2"`, `is = "len_a *"`, `main.toml:14: let[0].is: unexpected token EOF, at column 7 of "len_a *"
  an expression has names, numbers, "texts", + - * / < <= == != > >= && || ! ?: and has, all, any, min, max, count, abs, len`},
	{`is = "len_a * 2"`, `is = "len_a ^ 2"`, `main.toml:14: let[0].is: the operator ^ is not for procedures, in "len_a ^ 2"
  an expression has names, numbers, "texts", + - * / < <= == != > >= && || ! ?: and has, all, any, min, max, count, abs, len`},
	{`is = "len_a * 2"`, `is = "value * 2"`, `main.toml:14: let[0].is: "value" is not a value known here
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`is = "len_a * 2"`, `each = "line"
is = "len_a * 2"`, `main.toml:14: let[0].each: a let cannot be repeated over "line"
  write each = "side", or take it out`},
	{`when = "line.sewn"`, `when = "len_a > 2"`, `main.toml:17: bar[0].when: "len_a" is not a fact of plan and target
  a bar is judged before the first step: use facts only`},
	{`when = "line.sewn"`, `when = "link.turns > 2"`, `main.toml:17: bar[0].when: not every plan gives "link.turns"
  guard it: has(link.turns) && …`},
	{`say.en = "{line.code} is`, `say.en = "{line.name} is`, `main.toml:18: bar[0].say.en: {line.name} is not known here
  name a step, let, param or fact`},
	{`instead.en = "Workshop."`, "", `main.toml:16: bar[0].instead: the English text is missing
  instead.en = "…"`},
	{`action.en = "LOOK"`, `action.en = "LOOK AT {line.code}"`, `main.toml:27: phase[0].card[0].action.en: {line.code} gives the covered target away
  take it out; the person has to find it`},
	{"hidden = true", "", `main.toml:33: phase[0].card[0].step[0].observes: what is found out here stands on the card already
  write hidden = true at the phase`},
	{`observes = "place_on_link"`, `observes = "fork_place"`, `main.toml:29: phase[0].card[0].step[0].observes_at: joint 0
  count joints from the riser, from 1, for fork_place only`},
	{`observes = "place_on_link"`, `observes = "place_on_link"
observes_at = 1`, `main.toml:34: phase[0].card[0].step[0].observes_at: joint 1
  count joints from the riser, from 1, for fork_place only`},
	{`ask.en = "Place"`, `ask.en = "Place"
must = "fits > 0"`, `main.toml:29: phase[0].card[0].step[0].else: the text for a wrong answer is missing
  write else.en = "…": what the person does now`},
	{`ask.en = "Length"`, `ask.en = "Length {here}"`, `main.toml:48: phase[1].card[0].step[0].ask.en: {here} is not known here
  name a step, let, param or fact`},
	{`ask.en = "Length"`, `ask.en = "Length {value}"`, `main.toml:48: phase[1].card[0].step[0].ask.en: {value} is not known here
  name a step, let, param or fact`},
	{`ask.en = "Length"`, `ask.en = "Length"
must = "fits > 0"
else.en = "x"`, `main.toml:49: phase[1].card[0].step[0].must: "fits" is not a value known here
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`ask.en = "Length"`, `ask.en = "Length"
must = "value"
else.en = "x"`, `main.toml:49: phase[1].card[0].step[0].must: expected bool, but got float64 in "value"
  an expression has names, numbers, "texts", + - * / < <= == != > >= && || ! ?: and has, all, any, min, max, count, abs, len`},
	{`reason.en = "So."`, "", `main.toml:39: phase[1].card[0].reason: the English text is missing
  reason.en = "…"`},
	{`action.en = "CLOSE"`, `action.en = "CLOSE"
by = "third"`, `main.toml:67: phase[1].card[1].by: "third" cannot answer a card
  write by = "second", or take it out`},
	{`action.en = "CLOSE"`, `action.en = "CLOSE"
picture = "boat"`, `main.toml:67: phase[1].card[1].picture: there is no picture "boat"
  write one of: fan, stack, scale, hitch, knot, pulleys, gate, survey, lengths, trim`},
	{`action.en = "CLOSE"`, `action.en = "CLOSE"
each = "flock"`, `main.toml:67: phase[1].card[1].each: "flock" cannot be repeated over
  write "side", "line", "joint", "refit", "neighbours", "row" or "row side"`},
	{`id = "close"`, `id = "measure"`, `main.toml:65: phase[1].card[1].id: the card "measure" stands twice in this phase
  give each card of a phase an id of its own`},
	{`id = "close"`, `id = "Close"`, `main.toml:65: phase[1].card[1].id: "Close" is no id
  use small letters, digits and _, starting with a letter`},
	{`ask.en = "Order"`, `ask.en = "Order"
when = "order_of == line.code"`, `main.toml:78: phase[1].card[1].step[1].when: invalid operation: == (mismatched types []string and string), at column 10 of "order_of == line.code"
  an expression has names, numbers, "texts", + - * / < <= == != > >= && || ! ?: and has, all, any, min, max, count, abs, len`},
	{`ask.en = "State"`, `ask.en = "State"
when = "extra > 1"`, `main.toml:72: phase[1].card[1].step[0].when: "extra" is skipped under a condition that does not hold here
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`ask.en = "State"`, `ask.en = "State"
when = "twice / signed > 1"`, `main.toml:72: phase[1].card[1].step[0].when: "signed" is not a value known here
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`ask.en = "State"`, `ask.en = "State"
when = "given > 1"`, `main.toml:72: phase[1].card[1].step[0].when: the param "given" is optional
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`ask.en = "State"`, `ask.en = "State"
when = "line.length_mm > 1"`, `main.toml:72: phase[1].card[1].step[0].when: not every plan gives "line.length_mm"
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`ask.en = "State"`, `ask.en = "State"
when = "left.len_a > 1"`, `main.toml:72: phase[1].card[1].step[0].when: "left.len_a" is not a value known here
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`ask.en = "State"`, `ask.en = "State"
when = "sub.turns > 1"`, `main.toml:72: phase[1].card[1].step[0].when: "sub.turns" is not answered before this
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`ask.en = "Kind"`, `ask.en = "Kind"
when = "twin.len_a > 1"`, `main.toml:57: phase[1].card[0].step[1].when: "twin.len_a" is not a value known here
  name an earlier step, a let above, a param or a fact; or guard it with has(name)
main.toml:63: phase[1].card[0].step[2].when: "kind_of" is skipped under a condition that does not hold here
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`kind = "order"`, `kind = "poem"`, `main.toml:76: phase[1].card[1].step[1].kind: "poem" is no kind of step
  write "do", "measure", "choose", "check", "count", "code", "order", "note", "photo", "sign", or for a whole wing "inspect", "lengths", "trim", "loops", "clear"`},
	{`kind = "order"`, `kind = "order"
quantity = "length"`, `main.toml:77: phase[1].card[1].step[1].quantity: an order step has no quantity
  take it out`},
	{`kind = "order"`, `kind = "order"
part = true`, `main.toml:77: phase[1].card[1].step[1].part: an order step has no part
  take it out`},
	{`quantity = "length"`, `quantity = "speed"`, `main.toml:46: phase[1].card[0].step[0].quantity: "speed" is no quantity of a measure step
  write one of: length, force, torque`},
	{`state = "loose"`, `state = "wet"`, `main.toml:47: phase[1].card[0].step[0].state: "wet" is no state of what is measured
  write "loose", "installed" or "plain": like is compared with like only`},
	{`ask.en = "Length"`, `ask.en = "Length"
readings = 11`, `main.toml:49: phase[1].card[0].step[0].readings: number of readings: 11
  ask for 1 to 10`},
	{`source = "{plan.source}"`, "", `main.toml:43: phase[1].card[0].step[0].source: the expected value's source is missing
  say where the number comes from`},
	{`limit_source = "{limits.line_source}"`, "", `main.toml:43: phase[1].card[0].step[0].limit_source: the limit's source is missing
  say where the number comes from`},
	{`expect = "line.length_mm"`, "", `main.toml:51: phase[1].card[0].step[0].limit: a limit needs something to differ from
  add expect or against`},
	{`limit = "limits.line_mm"`, `limit = "limits.line_mm"
against = "len_a"`, `main.toml:52: phase[1].card[0].step[0].against: a reading is judged against one thing only
  keep expect or against
main.toml:52: phase[1].card[0].step[0].against: "len_a" is not answered before this
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`expect = "line.length_mm"`, `against = "kind_of"`, `main.toml:49: phase[1].card[0].step[0].against: "kind_of" is not a measure step
  name an earlier measure step or a param`},
	{`expect = "line.length_mm"`, `against = "len_a"`, `main.toml:49: phase[1].card[0].step[0].against: "len_a" is not answered before this
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`ask.en = "Order"`, `ask.en = "Order"
same_as = "len_a"
else.en = "x"`, `main.toml:78: phase[1].card[1].step[1].same_as: "len_a" is not an answer of the same kind
  name an earlier step, a let, a param or a fact of that kind`},
	{`ask.en = "Order"`, `ask.en = "Order"
same_as = "link.order"`, `main.toml:74: phase[1].card[1].step[1].else: the text for a wrong answer is missing
  write else.en = "…": what the person does now`},
	{`ask.en = "Order"`, `ask.en = "Order"
same_as = "order_of"
else.en = "x"`, `main.toml:78: phase[1].card[1].step[1].same_as: "order_of" is not answered before this
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`ask.en = "Order"`, `ask.en = "Order"
limit = "3"
readings = 2`, `main.toml:78: phase[1].card[1].step[1].limit: an order step has no limit
  take it out
main.toml:79: phase[1].card[1].step[1].readings: an order step has no readings
  take it out`},
	{`ask.en = "Order"`, `ask.en = "Order"
alters = true`, `main.toml:78: phase[1].card[1].step[1].alters: only a pair has sides that must not stay unequal
  take alters out, or write pair = true in the head`},
	{`option = [{ id = "one", text.en = "one" }, { id = "two", text.en = "two" }]`, `option = [{ id = "one", text.en = "one" }]`, `main.toml:57: phase[1].card[0].step[1].option: number of options: 1
  give 2 to 9: one digit answers`},
	{`{ id = "two", text.en = "two" }`, `{ id = "one", text.en = "two" }`, `main.toml:57: phase[1].card[0].step[1].option[1].id: "one" is no id, or stands twice
  use small letters, digits and _, starting with a letter`},
	{`{ id = "two", text.en = "two" }`, `{ id = "two", text.en = "two", right = true }`, `main.toml:57: phase[1].card[0].step[1].option: a choose step has no right answer
  take right out, or write kind = "check"`},
	{`{ id = "two", text.en = "two" }`, `{ id = "two", text.en = "two", unless = "line.code" }`, `main.toml:57: phase[1].card[0].step[1].option[1].unless: expected bool, but got string in "line.code"
  an expression has names, numbers, "texts", + - * / < <= == != > >= && || ! ?: and has, all, any, min, max, count, abs, len`},
	{"right = true, ", "", `main.toml:73: phase[1].card[1].step[0].option: no answer is the right one
  mark the state to be met with right = true, or write kind = "choose"`},
	{`else.en = "Again."`, "", `main.toml:68: phase[1].card[1].step[0].else: the text for a wrong state is missing
  write else.en = "…": what the person does now`},
	{`role = "doer"`, `role = "friend"`, `main.toml:81: phase[1].card[1].step[2].role: "friend" cannot sign
  write role = "doer", role = "second" or role = "pilot"`},
	{`covers = "len_a"`, `covers = "order"`, `main.toml:82: phase[1].card[1].step[2].covers: "order" is not an earlier step
  name the step from which the work is done again`},
	{`states.en = "Done."`, "", `main.toml:78: phase[1].card[1].step[2].states: the English text is missing
  states.en = "…"`},
	{`include = "part"`, `include = "none"`, `main.toml:87: phase[2].include: there is no procedure "none"
  procedures here: main, part`},
	{`include = "part"`, `include = "main"`, `main.toml:87: phase[2].include: "main" includes this procedure again
  take one of the includes out`},
	{`with.needed = "len_a"`, "", `main.toml:85: phase[2]: part needs the param "needed"
  add with.needed`},
	{`with.needed = "len_a"`, `with.needed = "kind_of"`, `main.toml:88: phase[2].with.needed: this gives a text, wanted is a number
  hand over a value of that type`},
	{`with.needed = "len_a"`, `with.needed = "extra"`, `main.toml:88: phase[2].with.needed: "extra" is skipped under a condition that does not hold here
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`with.needed = "len_a"`, `with.needed = "len_a"
with.other = "len_a"`, `main.toml:89: phase[2].with.other: part has no param "other"
  take it out`},
	{`with.needed = "len_a"`, `with.needed = "len_a"
each = "side"`, `main.toml:85: phase[2]: an include has no cards, no repetition and no cover of its own
  move the cards to another phase`},
	{`with.needed = "len_a"`, `with.needed = "len_a"
covers = "sub.turns"`, `main.toml:89: phase[2].covers: "sub.turns" is not an earlier step
  name the step from which the work is done again`},
	{`id = "sub"`, `id = "len_a"`, `main.toml:86: phase[2].id: "len_a" is used twice
  give every step, let, param, phase and include a name of its own`},
	{`title.en = "Work"`, `title.en = "Work"
with.x = "1"`, `main.toml:39: phase[1].with: only an include hands values over
  take with out`},
	{`title.en = "Work"`, `title.en = "Work"
covers = "place"`, `main.toml:39: phase[1].covers: only an include says what its holds cover
  write covers at the sign step`},
	{`title.en = "Work"`, `title.en = "Work"
twin = true`, `main.toml:39: phase[1].twin: only an include is about the other side
  take twin out, or write each = "side"`},
	{`include = "part"`, `include = "part"
twin = true`, `main.toml:88: phase[2].twin: only a pair has work on both sides
  take twin out, or write pair = true in the head`},
	{`[[phase.card]]
id = "close"`, `[[phase.card]]
id = "empty"
action.en = "A"
reason.en = "B"
[[phase.card]]
id = "close"`, `main.toml:64: phase[1].card[1]: the card has no step
  write at least one [[phase.card.step]]`},
	{`ask.en = "Order"`, `ask.en = "Order"
limit = "3"
limit_source = "x"`, `main.toml:78: phase[1].card[1].step[1].limit: an order step has no limit
  take it out
main.toml:79: phase[1].card[1].step[1].limit_source: an order step has no limit_source
  take it out`},
	{`instead.en = "Workshop."`, `instead.en = "Workshop {len_a}"`, `main.toml:19: bar[0].instead.en: "len_a" is not a fact of plan and target
  a bar is judged before the first step: use facts only`},
	{"hidden = true", `each = "joint"`, `main.toml:24: phase[0].each: a phase cannot be repeated over "joint"
  write each = "side", or take it out
main.toml:33: phase[0].card[0].step[0].observes: what is found out here stands on the card already
  write hidden = true at the phase`},
	{`ask.en = "Extra"`, `ask.en = "Extra"
each = "side"
must = "twin.extra < value"
else.en = "x"`, `main.toml:65: phase[1].card[0].step[2].must: "twin.extra" is not answered before this
  name an earlier step, a let above, a param or a fact; or guard it with has(name)`},
	{`title.en = "Work"`, `title.en = "Work on {line.code}"`, `main.toml:38: phase[1].title.en: nothing is filled in here
  take the {…} out`},
	{`limit_source = "{limits.line_source}"`, `limit_source = "{limits.line_source}"
[[phase.card.step.near]]
is = "extra"
within = "kind_of"`, `main.toml:53: phase[1].card[0].step[0].near[0].where: the English text is missing
  where.en = "…"
main.toml:54: phase[1].card[0].step[0].near[0].is: "extra" is not answered before this
  name an earlier step, a let above, a param or a fact; or guard it with has(name)
main.toml:55: phase[1].card[0].step[0].near[0].within: expected float64, but got string in "kind_of"
  an expression has names, numbers, "texts", + - * / < <= == != > >= && || ! ?: and has, all, any, min, max, count, abs, len`},
	{`ask.en = "Order"`, `ask.en = "Order"
near = [{ is = "len_a", where.en = "x" }]`, `main.toml:78: phase[1].card[1].step[1].near: an order step has no near
  take it out`},
	{`id = "measure"`, `id = "measure"
table = "none"`, `main.toml:41: phase[1].card[0].table: there is no table "none"
  write [[table]] with that id, or take it out`},
	{`id = "look"`, `id = "look"
table = "both"`, `main.toml:27: phase[0].card[0].table: there is no table "both"
  write [[table]] with that id, or take it out
main.toml:27: phase[0].card[0].table: what was measured must not be seen here
  take the table out`},
	{`[[bar]]`, `[[table]]
id = "both"
[[table]]
id = "half"
[[table.row]]
name.en = "Length {len_a}"
least = "kind_of"
[[bar]]`, `main.toml:16: table[0]: the table has no row
  write at least one [[table.row]]
main.toml:20: table[1].row[0].is: the value is missing
  write an expression that gives the number of one side
main.toml:21: table[1].row[0].name.en: nothing is filled in here
  take the {…} out
main.toml:22: table[1].row[0].least: expected float64, but got string in "kind_of"
  an expression has names, numbers, "texts", + - * / < <= == != > >= && || ! ?: and has, all, any, min, max, count, abs, len`},
}

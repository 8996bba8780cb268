// The screens. Each returns what the page shows; all numbers come from the computing.
const heading = text => h("h1", {"data-focus": true, tabindex: "-1"}, text);
const list = (items, kind) => items?.length ? h("ul", {class: kind}, items.map(x => h("li", {}, x))) : null;
const button = (text, onclick, set) => h("button", {type: "button", onclick, ...set}, text);
const problem = text => h("p", {class: "problem", role: "alert"}, text);

// given is a table of the library.
const given = t => t && [table(t.caption, t.head, t.rows), t.notes && h("p", {class: "quiet"}, t.notes.join(" "))];

function table(caption, head, rows, kind) {
	return h("div", {class: "wide"}, h("table", {class: kind},
		h("caption", {}, caption),
		h("thead", {}, h("tr", {}, head.map(x => h("th", {scope: "col"}, x)))),
		h("tbody", {}, rows.map(([first, ...cells]) => h("tr", {}, h("th", {scope: "row"}, first), cells.map(x => h("td", {}, x)))))));
}

const cautions = texts => texts?.length ? h("section", {class: "cautions"}, h("h2", {}, "Before swimming it"), list(texts)) : null;
const doubts = texts => texts?.length ? h("details", {}, h("summary", {}, "What to doubt"), list(texts)) : null;

function picture(p) {
	if (!p) return null;
	const one = (svg, ground) => {
		const e = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
		const box = h("div", {class: ground});
		e.setAttribute("viewBox", e.getAttribute("viewBox") || `0 0 ${parseFloat(e.getAttribute("width"))} ${parseFloat(e.getAttribute("height"))}`);
		e.removeAttribute("width");
		e.removeAttribute("height");
		box.append(document.importNode(e, true));
		return box;
	};
	return h("figure", {}, one(p.light, "light"), one(p.dark, "dark"));
}

// days lets one choose among the tests of a swimmer.
function days() {
	const tests = testsOf(here.swimmer);
	if (tests.length < 2) return null;
	return h("p", {class: "days"}, h("label", {}, "Test of ", h("select", {onchange: e => go({date: e.target.value, cell: ""})},
		tests.map(t => h("option", {value: t.date, selected: t.date === here.date}, t.day)))));
}

const screens = {
	sheet() {
		const rows = state.tests.map(t => h("li", {},
			h("a", {href: address({view: t.status === "swum" ? "result" : "swim", swimmer: t.swimmer, date: t.date, cell: ""})}, `${t.swimmer}, ${t.day}`),
			h("span", {}, t.status === "under way" ? `${t.done} of ${t.repeats.length} swum` : t.status),
			button("Remove", () => removeTest(t), {"aria-label": `Remove ${t.swimmer}, ${t.day}`})));
		return [
			state.tests.length ? heading("The sheet") : [
				heading("A step test, from the plan to the next one"),
				h("p", {}, "Swim a handful of long repeats, each faster than the last. After each, note the time, the heart beats and the lactate. ",
					"This page says where LT1 and LT2 lie and how sure that is, which speeds to train at, and, weeks later, whether you are faster."),
				h("p", {}, "It works without a network once it was opened. What you enter stays in this browser, on this device."),
			],
			!database && problem("This browser keeps nothing: save the sheet to a file before you close the page."),
			h("p", {class: "actions"},
				h("a", {class: state.tests.length ? "button" : "button first", href: address({view: "plan", cell: ""})}, "Plan a test"),
				h("label", {class: "button"}, "Open a sheet (CSV)", h("input", {type: "file", class: "unseen", accept: ".csv,text/csv,text/plain", onchange: e => takeFiles(e.target.files)})),
				state.tests.length > 0 && button("Save the sheet (CSV)", saveFile),
				here.book === "sheet" && button("Look at an example", openExample)),
			rows.length > 0 && h("ul", {class: "tests"}, rows),
			rows.length > 0 && h("p", {class: "quiet"}, "The sheet is a CSV file that any spreadsheet opens. Save it now and then: a browser that runs out of room may clear what it keeps. A file can also be dropped onto this page."),
		];
	},

	plan() {
		const tests = testsOf(here.swimmer);
		const last = tests.at(-1);
		const was = kept.get("plan") || {};
		const fields = {
			swimmer: here.swimmer || "", date: here.date > (last?.date || "") ? here.date : today(),
			pool: last?.pool || was.pool || "25 m", distance: was.distance || "400", repeats: was.repeats || "6", best: "", rest: was.rest || "1:10",
		};
		const shown = h("div", {"aria-live": "polite"});
		let wait = 0, mine = turn, asked = 0;
		const wanted = () => ({
			swimmer: fields.swimmer, date: fields.date,
			plan: {pool: fields.pool, distance: fields.distance, repeats: Number(fields.repeats), best: fields.best, rest: fields.rest},
		});
		const preview = async () => {
			const n = ++asked;
			const enough = fields.swimmer.trim() && (fields.best || testsOf(fields.swimmer.trim()).length);
			const p = enough ? await question({do: "plan", ...wanted()}) : {};
			if (n !== asked) return;
			if (!enough) return shown.replaceChildren(h("p", {class: "quiet"}, "With a name and a recent best time over the distance, the targets stand here."));
			shown.replaceChildren(...planned(p, async () => {
				kept.set("plan", fields);
				const done = await change({do: "keep", ...wanted()});
				if (done.error) return say(done.error);
				go({view: "swim", swimmer: p.swimmer, date: fields.date, cell: ""});
			}));
		};
		const input = (name, label, set, hint) => h("label", {}, h("span", {}, label), h("input", {
			name, value: fields[name], autocomplete: "off", ...set,
			oninput: e => {
				fields[name] = e.target.value;
				clearTimeout(wait);
				wait = setTimeout(preview, 150);
			},
		}), hint && h("small", {}, hint));
		const best = digitField("time", "best", "Best time over the distance: minutes, seconds, tenths", "", f => {
			fields.best = f.value;
			clearTimeout(wait);
			wait = setTimeout(preview, 150);
		});
		if (mine === turn) preview();
		return [
			heading("Plan a test"),
			h("form", {class: "plan", onsubmit: e => e.preventDefault()},
				input("swimmer", "Swimmer", {list: "names"}),
				h("datalist", {id: "names"}, state.swimmers.map(s => h("option", {value: s}))),
				input("date", "Day", {type: "date"}),
				h("label", {}, h("span", {}, "Pool"), h("select", {onchange: e => { fields.pool = e.target.value; preview(); }},
					[...new Set(["25 m", "50 m", "25 yd", fields.pool])].map(p => h("option", {selected: p === fields.pool}, p)))),
				h("label", {}, h("span", {}, "Best time"), best, h("small", {}, tests.some(t => t.done) ? "Blank: the same range as last time" : "A recent one; 4590 is 4:59.0")),
				input("distance", "Distance of a repeat", {inputmode: "numeric"}),
				input("repeats", "Repeats", {type: "number", min: 2, max: 12}),
				input("rest", "Rest between them", {})),
			shown,
		];
	},

	swim() {
		const t = current();
		if (!t) return [heading("Swim"), h("p", {}, "There is no plan yet. "), h("p", {class: "actions"}, h("a", {class: "button", href: address({view: "plan"})}, "Plan a test"))];
		const filled = t.cells.findLastIndex(c => c.value);
		const cell = t.cells.find(c => c.id === here.cell) || t.cells.slice(filled + 1).find(c => !c.value) || t.cells.at(-1);
		here.cell = cell.id;
		kept.set("last", address({}));
		const rep = t.repeats.find(r => r.number === cell.repeat);
		const told = h("div", {}), sheet = h("section", {class: "swum", "aria-label": "Sheet"}, board(t, cell)), below = h("div", {});
		advise(t, cell, told, sheet, below);
		return [
			h("div", {class: "swim"},
				h("section", {class: "now", "aria-label": "Now"},
					h("h1", {}, rep ? `Repeat ${rep.number} of ${t.repeats.length}` : "Before the first repeat", " ", rep && h("small", {}, rep.distance)),
					aim(rep, t.unit),
					!rep && h("p", {class: "quiet"}, `${t.repeats.length} × ${t.repeats[0].distance}. First target ${t.repeats[0].target || "none"}.`),
					told, entry(t, cell)),
				sheet),
			below,
		];
	},

	async result() {
		if (!current()) return [heading("Result"), h("p", {}, "No test was swum yet.")];
		const r = await question({do: "result"});
		if (r.error) return [heading("Result"), days(), problem(r.error), h("p", {class: "actions"}, h("a", {class: "button", href: address({view: "swim", cell: ""})}, "To the entries"))];
		return [
			heading(`${r.swimmer}, ${r.day}`), days(),
			r.trust && h("p", {class: "odd"}, r.trust),
			h("div", {class: "answers"}, r.thresholds.map(th => h("section", {"aria-label": th.name},
				h("h2", {}, th.name, " ", h("small", {}, th.meaning)),
				th.problem ? h("p", {}, "None: " + th.problem) : [
					h("p", {class: "big"}, th.pace, " ", h("small", {}, "per " + r.unit)),
					h("p", {}, th.within && `${th.within} (${r.confidence} sure)`),
					h("p", {}, th.beats && th.beats + " "),
					h("p", {class: "quiet"}, `${th.lactate}, ${th.speed}; by ${th.method}`)]))),
			h("div", {class: "beside"}, picture(r.picture), h("div", {},
				r.zones && table(r.zones.caption, ["zone", ...r.zones.head.slice(2)], r.zones.rows.map(([n, where, ...x]) => [`${n}, ${where}`, ...x])),
				r.apart && h("p", {class: "quiet"}, r.apart.join(" ")),
				doubts(r.doubts),
				h("details", {}, h("summary", {}, r.others.caption), given(r.others)))),
			r.next && h("section", {class: "unprinted"}, h("h2", {}, "Next time"),
				h("p", {}, `About ${r.next.day}: ${r.next.repeats.map(x => x.target).join(", ")}, the last one all out.`),
				h("p", {class: "actions"}, h("a", {class: "button", href: address({view: "plan", date: "", cell: ""})}, "Plan it"), button("Print", () => print()))),
			r.next && h("div", {class: "unprinted"}, cautions(r.next.cautions)),
		];
	},

	retest: () => verdict("retest", "Has it moved?"),
	season: () => verdict("season", "The season"),

	async squad() {
		const r = await question({do: "squad"});
		return [
			heading("Squad"),
			r.error ? problem(r.error) : [
				table(r.caption, r.head.filter((_, i) => i !== 1), r.rows.map(([s, day, ...x]) => [h("a", {href: address({view: "result", swimmer: s, date: day, cell: ""})}, s), ...x]), "squad"),
				r.notes && h("p", {class: "quiet"}, r.notes.join(" "))],
			together(here.date || state.tests.map(t => t.date).sort().at(-1)),
		];
	},
};

// together are the swimmers of a day, side by side: a tap goes to a repeat.
function together(date) {
	const tests = state.tests.filter(t => t.date === date);
	if (!tests.length) return null;
	const most = Math.max(...tests.map(t => t.repeats.length));
	return table(`All of ${tests[0].day}`, ["", ...Array.from({length: most}, (_, i) => i + 1)], tests.map(t => [t.swimmer, ...t.repeats.map(x => {
		const [time, y] = ["time", "lactate"].map(what => t.cells.find(c => c.id === `${x.number}.${what}`)?.value);
		return h("a", {href: address({view: "swim", swimmer: t.swimmer, date, cell: x.number + (time ? ".lactate" : ".time")}), "aria-label": `${t.swimmer}, repeat ${x.number}: ${time || "not swum"}`},
			time || h("span", {class: "quiet"}, x.target || "–"), " ", h("small", {}, y || "–"));
	})]), "squad");
}

// planned shows a plan, and keeps it.
function planned(p, keep) {
	if (p.error) return [problem(p.error)];
	return [
		table(`${p.swimmer}, ${p.day}, ${p.pool} pool`, ["repeat", "leave", "target", "per " + p.unit, "time", "beats", "lactate"],
			p.repeats.map(r => [`${r.number}: ${r.distance}`, r.leave, (r.all_out ? "~" : "") + r.target, r.per_100, "", "", ""]), "paper"),
		h("p", {class: "quiet"}, `~ all out: what is expected. Warm up ${p.warm_up}. ${p.samples} ${p.from}`),
		h("p", {class: "actions"}, button("Keep this plan and swim", keep, {class: "first"}), button("Print", () => print())),
		list(p.findings, "findings"),
		cautions(p.cautions),
	];
}

// aim is the target of a repeat.
function aim(rep, unit) {
	return h("p", {class: "target", id: "aim"}, rep?.target && [h("strong", {}, rep.target), " ", h("span", {}, `${rep.per_100} per ${unit}`, rep.leave && `, leave at ${rep.leave}`),
		rep.all_out && h("span", {}, "all out; the time is a guess")]);
}

// advise says what is odd and what comes next, as soon as it is known, and leaves the
// field alone: somebody types there.
async function advise(t, cell, told, sheet, below) {
	await last; // what was entered is kept
	if (!told.isConnected) return; // somebody went on
	const info = await question({do: "swim", swimmer: t.swimmer, date: t.date});
	const now = current();
	if (info.error || !told.isConnected || !now) return info.error && say(info.error);
	sheet.replaceChildren(...board(now, cell).filter(Boolean));
	if (info.next?.number === cell.repeat) at("aim").replaceWith(aim(info.next, t.unit));
	told.replaceChildren(...[
		info.odd.length > 0 && h("div", {class: "odd", role: "status"}, list(info.odd.slice(0, 2).map(o => [h("a", {href: address({cell: o.cell})}, `Repeat ${o.repeat}`), ": ", o.text]))),
		info.next?.number === cell.repeat && info.why && h("p", {}, info.why),
	].filter(Boolean));
	below.replaceChildren(...[
		info.ready && h("p", {class: "actions"}, h("a", {class: "button", href: address({view: "result", cell: ""})}, "See the result")),
		cautions(info.cautions),
		info.stop && h("p", {class: "stop"}, info.stop),
	].filter(Boolean));
}

// entry is the field and its keys for one number of a test.
function entry(t, cell) {
	const place = address({});
	const draft = kept.get("draft");
	const field = digitField(cell.kind, "field", cell.label, cell.value, f => {
		kept.set("draft", {place, digits: f.digits});
		label();
	});
	field.setAttribute("data-focus", "");
	field.setAttribute("inputmode", "none"); // the keys are on the page
	let cleared = false;
	const enter = h("button", {type: "submit", class: "first"});
	const label = () => { enter.textContent = field.digits || cleared ? "Enter" : cell.value ? "Next" : "Skip"; };
	const next = () => t.cells[t.cells.indexOf(cell) + 1];
	const press = k => {
		if (k === "⌫" && !field.digits) cleared = true;
		field.press(k);
	};
	label();
	if (draft?.place === place && draft.digits) field.put(draft.digits);
	const keys = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "⌫", "0"].map(k => button(k, () => press(k), {
		class: "key", "aria-label": k === "⌫" ? "Delete" : false, onpointerdown: e => e.preventDefault(),
	}));
	const enterIt = async beyond => {
		const value = beyond || (field.digits ? field.value : "");
		if (!value && !cleared) return go({cell: (next() || cell).id});
		kept.set("draft", null);
		const done = put(t.swimmer, t.date, cell.id, value);
		say("");
		go({cell: (next() || cell).id});
		const {error} = await done;
		if (!error) return;
		await refresh();
		go({view: "swim", swimmer: t.swimmer, date: t.date, cell: cell.id});
		say(error);
	};
	return h("form", {class: "entry", onsubmit: e => {
		e.preventDefault();
		enterIt();
	}},
	h("div", {class: "cells", role: "group", "aria-label": "What to enter"}, t.cells.filter(c => c.repeat === cell.repeat).map(c =>
		h("a", {href: address({cell: c.id}), "aria-current": c === cell ? "true" : false, "aria-label": `${c.label}: ${c.value || "blank"}`}, h("small", {}, c.short), " ", c.value || "–"))),
	h("label", {class: "display"}, h("span", {}, cell.label), field),
	cell.kind === "lactate" && cell.id !== "rest" && h("div", {class: "beyond"}, ["HI", "Lo"].map(k =>
		button(k, () => enterIt(k), {"aria-label": `${k}: the analyser shows no number`}))),
	h("div", {class: "keys"}, keys, enter));
}

// board is the sheet of one test; each number can be tapped.
function board(t, cell) {
	const link = c => c ? h("a", {href: address({cell: c.id}), "aria-current": c.id === cell.id ? "true" : false, "aria-label": `${c.label}: ${c.value || "blank"}`}, c.value || "–") : "";
	const number = (r, what) => link(t.cells.find(c => c.id === r.number + "." + what));
	const after = t.cells.filter(c => c.id.startsWith("after.")), planned = t.repeats.some(r => r.target);
	return [
		days(),
		table(`${t.swimmer}, ${t.day}, ${t.pool} pool`, ["", planned && "target", "time", "beats", "lactate"].filter(x => x !== false),
			t.repeats.map(r => [r.number, planned && [r.target, " ", r.leave && h("small", {}, r.leave)], [number(r, "time"), " ", r.late && h("small", {}, r.late)], number(r, "beats"), number(r, "lactate")].filter(x => x !== false)), "board"),
		h("p", {class: "after"}, "At rest ", link(t.cells[0]), after.length > 0 && [". After the last: ", after.map((c, i) => [i > 0 && ", ", c.short + " ", link(c)])]),
		state.tests.filter(x => x.date === t.date).length > 1 && together(t.date),
	];
}

async function verdict(what, title) {
	if (!here.swimmer) return [heading(title), h("p", {}, "No test was swum yet.")];
	const v = await question({do: what});
	if (v.error) return [heading(title), h("p", {}, v.error)];
	return [
		heading(title), h("p", {class: "quiet"}, `${v.swimmer}: ${v.tests}`),
		h("p", {class: "answer"}, v.answer), v.lines.map(x => h("p", {}, x)),
		picture(v.picture), given(v.tables[0]), doubts(v.doubts),
		v.tables.length > 1 && h("details", {}, h("summary", {}, "More numbers"), v.tables.slice(1).map(given)),
		v.again && cautions(v.again),
		h("p", {class: "actions unprinted"}, button("Print", () => print())),
	];
}

async function removeTest(t) {
	if (!confirm(`Remove the test of ${t.swimmer}, ${t.day}? What was entered is gone.`)) return;
	const done = await change({do: "remove", swimmer: t.swimmer, date: t.date});
	if (done.error) say(done.error);
	show();
}

async function takeFiles(files) {
	for (const f of files) {
		const bytes = new Uint8Array(await f.arrayBuffer());
		let raw = "";
		for (let i = 0; i < bytes.length; i += 32768) raw += String.fromCharCode(...bytes.subarray(i, i + 32768));
		const request = {do: "import", file: btoa(raw)};
		let done = await change(request);
		if (done.dates) {
			request.dates = confirm("Which comes first in the dates of this file, as in 3/4/2025?\n\nOK: the day, 3 April. Cancel: the month, 4 March.") ? "day-first" : "month-first";
			done = await change(request);
		}
		if (done.differ) {
			const file = confirm(`Some numbers differ:\n${done.differ.slice(0, 12).join("\n")}\n\nTake those of the file? Otherwise those entered here stay.`);
			done = await change({...request, prefer: file ? "file" : "mine"});
		}
		here.view = "sheet";
		history.replaceState(null, "", address({view: "sheet"}));
		await show();
		say(`${f.name}: ${done.error || done.notes.join("\n")}`);
	}
}

async function saveFile() {
	const {text} = await load(here.book);
	const link = h("a", {href: URL.createObjectURL(new Blob([text], {type: "text/csv"})), download: `step-tests-${today()}.csv`});
	link.click();
	setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

async function openExample() {
	here = {book: "example", view: "result", swimmer: "Robin Vale", date: "2025-01-18", cell: ""};
	const done = await change({do: "example"});
	if (done.error) return say(done.error);
	location.hash = address({});
}

start();

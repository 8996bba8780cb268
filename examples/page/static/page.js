// Where we are, and how it is shown. An address such as
// #sheet/swim/Robin%20Vale/2025-01-18/3.time says everything: it survives a reload.
const steps = {plan: "Plan", swim: "Swim", result: "Result", retest: "Retest", season: "Season"};
let here = {book: "sheet", view: "sheet", swimmer: "", date: "", cell: ""};
let state = {swimmers: [], tests: []};
let turn = 0; // counts what was shown: answers to earlier turns come too late

const at = id => document.getElementById(id);

// h makes an element. Texts become text, never markup.
function h(tag, set, ...inside) {
	const e = document.createElement(tag);
	for (const [k, v] of Object.entries(set || {})) {
		if (k.startsWith("on")) e.addEventListener(k.slice(2), v);
		else if (v === true) e.setAttribute(k, "");
		else if (v !== false && v != null) e.setAttribute(k, v);
	}
	e.append(...inside.flat(Infinity).filter(x => x != null && x !== false && x !== ""));
	return e;
}

function say(text) {
	at("status").textContent = text || "";
}

// kept reads and writes small things that are no part of the sheet.
const kept = {
	get(name) {
		try {
			return JSON.parse(localStorage.getItem("steptest." + name));
		} catch {
			return null;
		}
	},
	set(name, value) {
		try {
			if (value === null) localStorage.removeItem("steptest." + name);
			else localStorage.setItem("steptest." + name, JSON.stringify(value));
		} catch { /* nothing can be kept here, which the start page says */ }
	},
	names(start) {
		try {
			return Object.keys(localStorage).filter(k => k.startsWith("steptest." + start)).map(k => k.slice("steptest.".length));
		} catch {
			return [];
		}
	},
};

function today() {
	const d = new Date();
	return new Date(d - d.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
}

function address(to) {
	const {book, view, swimmer, date, cell} = {...here, ...to};
	return "#" + [book, view, swimmer, date, cell].map(encodeURIComponent).join("/").replace(/\/+$/, "");
}

// go shows another place at once: what is typed next goes there. A step within a test
// leaves no trace in the browser's history.
function go(to) {
	const next = address(to);
	if (to.book && to.book !== here.book) {
		location.hash = next; // which reads the other sheet
		return;
	}
	if (Object.keys(to).join() === "cell") history.replaceState(null, "", next);
	else history.pushState(null, "", next);
	readAddress();
	show();
}

function readAddress() {
	const hash = location.hash || kept.get("last") || "#sheet/sheet";
	const decoded = part => {
		try {
			return decodeURIComponent(part);
		} catch {
			return "";
		}
	};
	const [book, view, swimmer, date, cell] = hash.slice(1).split("/").map(decoded);
	here = {book: book === "example" ? "example" : "sheet", view: view || "sheet", swimmer: swimmer || "", date: date || "", cell: cell || ""};
	kept.set("last", address({}));
}

const testsOf = swimmer => state.tests.filter(t => t.swimmer === swimmer).sort((a, b) => a.date < b.date ? -1 : 1);

// settle fills in a swimmer and a test where the address names none that there is.
function settle() {
	if (here.view === "plan") return;
	if (!state.swimmers.includes(here.swimmer)) {
		here.swimmer = state.tests.at(-1)?.swimmer || "";
		here.date = "";
	}
	const tests = testsOf(here.swimmer);
	if (!tests.some(t => t.date === here.date)) {
		const fits = here.view === "swim" ? tests : tests.filter(t => t.done > 0);
		here.date = (fits.at(-1) || tests.at(-1))?.date || "";
		here.cell = "";
	}
}

const current = () => state.tests.find(t => t.swimmer === here.swimmer && t.date === here.date);

async function show() {
	const mine = ++turn;
	settle();
	frame();
	const main = at("main");
	main.setAttribute("aria-busy", "true");
	let parts = (screens[here.view] || screens.sheet)();
	if (parts instanceof Promise) parts = await parts;
	if (mine !== turn) return;
	main.replaceChildren(...[parts].flat(Infinity).filter(Boolean));
	main.removeAttribute("aria-busy");
	main.dataset.shown = address({});
	(main.querySelector("[data-focus]") || main).focus({preventScroll: true});
}

// frame draws what stands around the content.
function frame() {
	const many = state.swimmers.length > 1, t = current();
	at("day").textContent = here.view !== "swim" || !t ? "" : many ? t.day : `${t.swimmer}, ${t.day}`;
	at("invented").hidden = here.book !== "example";
	at("sheet").setAttribute("aria-current", here.view === "sheet" ? "page" : "false");
	const chip = (name, to, on) => h("button", {type: "button", "aria-pressed": String(on), onclick: () => go(to)}, name);
	at("swimmers").hidden = here.view === "sheet" || here.view === "plan" || !many;
	at("swimmers").replaceChildren(...[
		chip("Squad", {view: "squad", cell: ""}, here.view === "squad"),
		...state.swimmers.map(s => chip(s, {
			view: here.view === "squad" ? "result" : here.view, swimmer: s, cell: "",
			date: testsOf(s).some(t => t.date === here.date) ? here.date : "",
		}, here.view !== "squad" && s === here.swimmer)),
	]);
	at("swimmers").querySelector("[aria-pressed=true]")?.scrollIntoView({block: "nearest", inline: "center"});
	at("steps").replaceChildren(...Object.entries(steps).map(([view, name]) =>
		h("a", {href: address({view, cell: ""}), "aria-current": here.view === view ? "page" : false}, name)));
}

// How digits are typed: from the right, as on a kitchen scale or a microwave.
const typed = {
	time: d => d.padStart(4, "0").replace(/^0+(?=\d{4})/, "").replace(/(\d\d)(\d)$/, ":$1.$2"),
	lactate: d => d.padStart(2, "0").replace(/^0+(?=\d{2})/, "").replace(/(\d)$/, ".$1"),
	beats: d => d,
};
const longest = {time: 5, lactate: 3, beats: 3};
const nothing = {time: "-:--.-", lactate: "-.-", beats: "---"};

// digits is a field for a number, with or without keys on the screen.
function digitField(kind, id, label, value, changed) {
	const field = h("input", {id, inputmode: "numeric", autocomplete: "off", enterkeyhint: "next", placeholder: nothing[kind], "aria-label": label});
	field.digits = "";
	field.value = value || "";
	const put = d => {
		field.digits = d.replace(/^0+/, "").slice(0, longest[kind]);
		field.value = field.digits && typed[kind](field.digits);
		changed?.(field);
	};
	field.put = put;
	field.press = key => {
		if (key === "⌫") put(field.digits.slice(0, -1));
		else put(field.digits + key);
	};
	field.addEventListener("beforeinput", e => {
		if (e.inputType === "insertLineBreak") return;
		e.preventDefault();
		if (e.inputType.startsWith("delete")) field.press("⌫");
		else for (const c of (e.data ?? e.dataTransfer?.getData("text") ?? "").replace(/\D/g, "")) field.press(c);
	});
	// Some keyboards on glass cannot be stopped from writing: what they wrote is taken.
	field.addEventListener("input", () => put(field.value.replace(/\D/g, "")));
	return field;
}

async function refresh() {
	const {text, says, by} = await load(here.book);
	if (!text) return take({swimmers: [], tests: []});
	if (says && by === document.documentElement.dataset.version) return take(says);
	const answer = await ask({do: "state", sheet: text});
	if (answer.error) say(answer.error);
	else take(answer);
}

// question asks about the sheet as it is kept, with all that was entered.
async function question(request) {
	await last;
	const {text} = await load(here.book);
	return ask({narrow: innerWidth < 700, invented: here.book === "example", swimmer: here.swimmer, date: here.date, ...request, sheet: text});
}

async function start() {
	startWorker();
	readAddress();
	await openStore();
	if (other) other.onmessage = async ({data}) => {
		if (data !== here.book) return;
		await refresh();
		show();
	};
	addEventListener("hashchange", async () => {
		const book = here.book;
		readAddress();
		say("");
		if (book !== here.book) await refresh();
		show();
	});
	at("sheet").addEventListener("click", () => go({view: "sheet"}));
	at("leave").addEventListener("click", () => go({book: "sheet", view: "sheet", swimmer: "", date: "", cell: ""}));
	addEventListener("dragover", e => e.preventDefault());
	addEventListener("drop", e => {
		e.preventDefault();
		if (e.dataTransfer.files.length) takeFiles(e.dataTransfer.files);
	});
	recover();
	await refresh();
	await show();
	performance.mark("shown");
	setTimeout(() => ask({do: "warm"}), 500); // so that the first result comes as fast as the others
	if (location.protocol.startsWith("http")) {
		document.head.append(h("link", {rel: "manifest", href: "page.webmanifest"}));
		navigator.serviceWorker?.register("offline.js");
	}
}

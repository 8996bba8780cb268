"use strict";
// What is kept: the sheet as CSV text with a version, in the browser's database. A
// change is made on the version it was read from; if another tab was faster, it is made
// again on what that tab left.

const other = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("sheet");
let database = null; // null: nothing can be kept
const memory = {};

function promised(request) {
	return new Promise((done, failed) => {
		request.onsuccess = () => done(request.result);
		request.onerror = () => failed(request.error);
	});
}

async function openStore() {
	try {
		const open = indexedDB.open("steptest", 1);
		open.onupgradeneeded = () => open.result.createObjectStore("sheets");
		database = await promised(open);
		navigator.storage?.persist?.();
	} catch {
		database = null;
	}
}

async function load(name) {
	const kept = database ? await promised(database.transaction("sheets").objectStore("sheets").get(name)) : memory[name];
	return kept || {text: "", version: 0};
}

// save keeps a text if the version is still the one it was made from.
function save(name, text, version) {
	if (!database) {
		memory[name] = {text, version: version + 1};
		return true;
	}
	return new Promise((done, failed) => {
		const change = database.transaction("sheets", "readwrite", {durability: "strict"});
		const sheets = change.objectStore("sheets");
		let saved = false;
		const look = sheets.get(name);
		look.onsuccess = () => {
			if ((look.result?.version || 0) === version) {
				sheets.put({text, version: version + 1}, name);
				saved = true;
			}
		};
		change.oncomplete = () => done(saved);
		change.onerror = change.onabort = () => failed(change.error);
	});
}

// The computing: a worker made from this very file.
const asked = new Map();
let worker = null, nextID = 1;

function startWorker() {
	const source = document.getElementById("worker").textContent.replaceAll("<\\/", "</");
	worker = new Worker(URL.createObjectURL(new Blob([source], {type: "text/javascript"})));
	worker.onmessage = ({data}) => {
		if (data.started) return performance.mark("computing");
		if (data.failed) return say("The computing did not start: " + data.failed);
		asked.get(data.id)(JSON.parse(data.answer));
		asked.delete(data.id);
	};
	worker.onerror = e => say("The computing stopped: " + e.message);
	worker.postMessage({code: document.getElementById("code").textContent});
}

// ask asks the computing.
function ask(request) {
	return new Promise(done => {
		asked.set(nextID, done);
		worker.postMessage({id: nextID++, request: JSON.stringify(request)});
	});
}

// change asks for a new sheet and keeps it, one change after the other.
let last = Promise.resolve();

function change(request) {
	const done = last.then(() => changed(request));
	last = done.catch(() => {});
	return done;
}

async function changed(request) {
	for (;;) {
		const {text, version} = await load(here.book);
		const answer = await ask({...request, sheet: text});
		if (answer.sheet === undefined) return answer;
		if (await save(here.book, answer.sheet, version)) {
			take(answer.state);
			other?.postMessage(here.book);
			return answer;
		}
	}
}

// What was entered and is not kept yet stands in the state already.
const pending = new Map();

function put(t, cell, value) {
	const key = [t.swimmer, t.date, cell.id].join("\n");
	pending.set(key, value);
	take(state);
	const done = change({do: "enter", swimmer: t.swimmer, date: t.date, cell: cell.id, value});
	return done.finally(() => {
		if (pending.get(key) === value) pending.delete(key);
	});
}

function take(fresh) {
	for (const [key, value] of pending) {
		const [swimmer, date, id] = key.split("\n");
		const cell = fresh.tests.find(t => t.swimmer === swimmer && t.date === date)?.cells.find(c => c.id === id);
		if (cell) cell.value = value;
	}
	state = fresh;
}

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
	} catch {
		database = null;
	}
}

async function load(name) {
	const kept = database ? await promised(database.transaction("sheets").objectStore("sheets").get(name)) : memory[name];
	return kept || {text: "", version: 0};
}

// save keeps a text if the version is still the one it was made from. What it says goes
// with it: the next start need not wait for the computing.
function save(name, text, version, says) {
	const kept = {text, version: version + 1, says, by: document.documentElement.dataset.version};
	if (!database) {
		memory[name] = kept;
		return true;
	}
	return new Promise((done, failed) => {
		const change = database.transaction("sheets", "readwrite", {durability: "strict"});
		const sheets = change.objectStore("sheets");
		let saved = false;
		const look = sheets.get(name);
		look.onsuccess = () => {
			if ((look.result?.version || 0) === version) {
				sheets.put(kept, name);
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
	const book = request.book || here.book;
	const done = last.then(() => changed(book, request));
	last = done.catch(() => {});
	return done;
}

async function changed(book, request) {
	for (;;) {
		const {text, version} = await load(book);
		const answer = await ask({...request, sheet: text});
		if (answer.sheet === undefined) return answer;
		if (await save(book, answer.sheet, version, answer.state)) {
			if (version === 0) navigator.storage?.persist?.(); // now there is something to lose
			if (book === here.book) take(answer.state);
			other?.postMessage(book);
			return answer;
		}
	}
}

// What was entered and is not kept yet stands in the state already, and in a journal:
// the page may be closed before the computing has it.
const pending = new Map();
const journal = "pending." + Math.random().toString(36).slice(2);

function put(swimmer, date, cell, value, book = here.book) {
	const key = JSON.stringify([book, swimmer, date, cell]);
	const write = () => kept.set(journal, pending.size ? [...pending] : null);
	pending.set(key, value);
	write();
	take(state);
	return change({do: "enter", book, swimmer, date, cell, value}).finally(() => {
		if (pending.get(key) !== value) return; // something newer waits
		pending.delete(key);
		write();
	});
}

// recover enters what a page that was closed had not kept.
function recover() {
	for (const name of kept.names("pending.")) {
		for (const [key, value] of kept.get(name) || []) {
			const [book, swimmer, date, cell] = JSON.parse(key);
			put(swimmer, date, cell, value, book).then(done => done.error && say(done.error));
		}
		kept.set(name, null);
	}
}

// take takes a state over, with what waits.
function take(fresh) {
	for (const [key, value] of pending) {
		const [book, swimmer, date, id] = JSON.parse(key);
		const t = book === here.book && fresh.tests.find(t => t.swimmer === swimmer && t.date === date);
		const cell = t && t.cells.find(c => c.id === id);
		if (cell) cell.value = value;
	}
	state = fresh;
}

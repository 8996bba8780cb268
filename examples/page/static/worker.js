// Runs the computing, away from the page: one request after the other.
const waiting = [];
let ready = false;

function reply({id, request}) {
	postMessage({id, answer: answer(request)});
}

globalThis.started = () => {
	ready = true;
	postMessage({started: true});
	waiting.splice(0).forEach(reply);
};

onmessage = async e => {
	if (!e.data.code) {
		ready ? reply(e.data) : waiting.push(e.data);
		return;
	}
	try {
		const packed = Uint8Array.from(atob(e.data.code), c => c.charCodeAt(0));
		const code = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
		const go = new Go();
		const {instance} = await WebAssembly.instantiate(await new Response(code).arrayBuffer(), go.importObject);
		go.run(instance);
	} catch (err) {
		postMessage({failed: String(err)});
	}
};

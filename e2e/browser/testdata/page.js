const show = (id, text) => { document.getElementById(id).textContent = text };

// Every part of a form that a test can fill says what it became.
const state = () => show("brew", ["dose", "roasted", "acidity", "process"]
	.map(id => id + " " + document.getElementById(id).value)
	.concat("decaf " + (document.querySelector("[name=decaf]:checked")?.value ?? "unsaid")).join(", "));
document.getElementById("save").addEventListener("click", () => { state(); keep(document.getElementById("dose").value) });
for (const button of document.querySelectorAll(".guess"))
	button.addEventListener("click", () => show("brew", "guessing " + button.parentElement.getAttribute("aria-label")));

// Storage that outlives the tab.
const database = new Promise((done, failed) => {
	const request = indexedDB.open("practice", 1);
	request.onupgradeneeded = () => request.result.createObjectStore("kept");
	request.onsuccess = () => done(request.result);
	request.onerror = () => failed(request.error);
});
const keep = async value => {
	const write = (await database).transaction("kept", "readwrite");
	write.objectStore("kept").put(value, "dose");
	write.oncomplete = () => show("kept", "kept: " + value);
	write.onabort = () => show("kept", "not kept: " + write.error?.name);
};
database.then(db => {
	const read = db.transaction("kept").objectStore("kept").get("dose");
	read.onsuccess = () => { if (read.result) show("kept", "kept: " + read.result) };
});

// The network as the page, a worker, a service worker and a websocket see it.
const worker = new Worker("worker.js");
worker.onmessage = e => show("worker", "worker: " + e.data);
navigator.serviceWorker.register("offline.js");
const line = () => show("line", navigator.onLine ? "line: on" : "line: off");
addEventListener("online", line);
addEventListener("offline", line);
line();
const connect = () => {
	const socket = new WebSocket("ws://" + location.host + "/socket");
	socket.onopen = () => show("socket", "socket: open");
	socket.onclose = () => { show("socket", "socket: closed"); setTimeout(connect, 100) };
};
connect();

document.getElementById("complain").addEventListener("click", () => console.error("the page complains"));
document.getElementById("complain-worker").addEventListener("click", () => worker.postMessage("complain"));

// A button that wants a finger to stay.
const stay = document.getElementById("stay");
let since = 0;
stay.addEventListener("pointerdown", () => { since = performance.now() });
stay.addEventListener("pointerup", () => show("brew", performance.now() - since > 300 ? "held" : "only touched"));

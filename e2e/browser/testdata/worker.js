onmessage = e => { if (e.data === "complain") console.error("the worker complains") };
let n = 0;
setInterval(async () => {
	const answer = await fetch("/hello?" + n++).then(r => r.ok ? "hears" : "refused", () => "deaf");
	postMessage(answer);
}, 100);

package main

// watchAnswers tells a page's script what the app asks its worker, and what it
// hears: the messages, when they came, and (a promise) when the document said
// so. That is once the app has dealt with them and done what it put off to the
// end of that turn. A frame that is drawn right after it is not part of that;
// where the document stayed as it was, the page's next turn is waited for.
const watchAnswers = `
const nextTurn = then => { const channel = new MessageChannel(); channel.port1.onmessage = () => then(performance.now()); channel.port2.postMessage(0) };
const watchAnswers = (asks, hears) => {
	let at = 0, changed = 0;
	new MutationObserver(() => { changed = performance.now() }).observe(document, { attributes: true, characterData: true, childList: true, subtree: true });
	const heard = ({ data }) => hears(data, at, changed >= at ? Promise.resolve(performance.now()) : new Promise(nextTurn));
	const Plain = Worker;
	window.Worker = class extends Plain {
		constructor(...args) {
			super(...args);
			this.addEventListener("message", () => { at = performance.now() }); // before the app's own
			setTimeout(() => this.addEventListener("message", heard)); // after it
		}
		postMessage(message, ...rest) {
			asks(message);
			return super.postMessage(message, ...rest);
		}
	};
}`

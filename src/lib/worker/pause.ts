/**
 * A pause in which waiting messages are delivered. A message to oneself comes back after those already waiting, at
 * once; a timer would be held back by four milliseconds and more.
 */
export function createPause(): () => Promise<void> {
	const { port1, port2 } = new MessageChannel();
	let resume: (() => void) | null = null;
	port1.onmessage = () => resume?.();
	return () =>
		new Promise((resolve) => {
			resume = resolve;
			port2.postMessage(null);
		});
}

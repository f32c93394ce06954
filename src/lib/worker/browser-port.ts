import type { WorkerPort } from './client.ts';
import type { FromWorker } from './protocol.ts';

/** Starts the simulation worker in a browser. */
export function openBrowserPort(): WorkerPort {
	const worker = new Worker(new URL('./browser.ts', import.meta.url), { type: 'module' });
	return {
		post: (message) => worker.postMessage(message),
		listen: (onMessage, onError) => {
			worker.onmessage = (event: MessageEvent<FromWorker>) => onMessage(event.data);
			worker.onerror = (event) => {
				event.preventDefault();
				onError(event.message || 'it could not be started');
			};
		},
		close: () => worker.terminate()
	};
}

import { Worker } from 'node:worker_threads';
import type { WorkerPort } from './client.ts';
import type { FromWorker } from './protocol.ts';

/** Starts the simulation worker in Node; `file` is where the set-up has built `node.ts`. */
export function openNodePort(file: URL): WorkerPort {
	const worker = new Worker(file);
	let closed = false;
	return {
		post: (message) => worker.postMessage(message),
		listen: (onMessage, onError) => {
			worker.on('message', (message: FromWorker) => onMessage(message));
			worker.on('error', (error) => onError(error.message));
			// after an error this comes second, when its thread has been replaced already
			worker.on('exit', () => {
				if (!closed) onError('its thread ended');
			});
		},
		close: () => {
			closed = true;
			void worker.terminate();
		}
	};
}

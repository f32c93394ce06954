import { parentPort } from 'node:worker_threads';
import { Engine } from './engine.ts';
import { createPause } from './pause.ts';
import type { ToWorker } from './protocol.ts';

/** Entry of the simulation worker in Node. */
const port = parentPort;
if (port === null) throw new Error('This file is started as a worker, not by itself.');
const engine = new Engine({
	post: (message, transfer) => port.postMessage(message, transfer),
	pause: createPause(),
	now: () => performance.now()
});
port.on('message', (message: ToWorker) => engine.receive(message));

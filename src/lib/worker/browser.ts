import { Engine } from './engine.ts';
import { createPause } from './pause.ts';
import type { ToWorker } from './protocol.ts';

/** Entry of the simulation worker in a browser. */
const scope = self as unknown as DedicatedWorkerGlobalScope;
const engine = new Engine({
	post: (message, transfer) => scope.postMessage(message, transfer),
	pause: createPause(),
	now: () => performance.now()
});
scope.onmessage = (event: MessageEvent<ToWorker>) => engine.receive(event.data);

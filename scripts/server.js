/** A small static file server for this machine only: it listens on 127.0.0.1 and nowhere else. */
import { createReadStream, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, resolve, sep } from 'node:path';

const types = {
	'.css': 'text/css; charset=utf-8',
	'.html': 'text/html; charset=utf-8',
	'.js': 'text/javascript; charset=utf-8',
	'.json': 'application/json',
	'.png': 'image/png',
	'.svg': 'image/svg+xml',
	'.txt': 'text/plain; charset=utf-8',
	'.webmanifest': 'application/manifest+json',
	'.woff2': 'font/woff2',
	'.yaml': 'text/plain; charset=utf-8'
};

const isFile = (path) => statSync(path, { throwIfNoEntry: false })?.isFile() ?? false;
const isFolder = (path) => statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;

function send(request, response, status, path) {
	const lasting = path.includes(`${sep}immutable${sep}`);
	response.writeHead(status, {
		'content-type': types[extname(path)] ?? 'application/octet-stream',
		'content-length': statSync(path).size,
		'cache-control': lasting ? 'public, max-age=31536000, immutable' : 'no-cache',
		'x-content-type-options': 'nosniff'
	});
	if (request.method === 'HEAD') response.end();
	else createReadStream(path).pipe(response);
}

function refuse(response, status, text, headers = {}) {
	response.writeHead(status, { 'content-type': 'text/plain; charset=utf-8', ...headers });
	response.end(`${text}\n`);
}

function answer(folder, base, request, response) {
	if (request.method !== 'GET' && request.method !== 'HEAD')
		return refuse(response, 405, 'GET only.', { allow: 'GET, HEAD' });
	const address = request.url.split(/[?#]/)[0];
	let path;
	try {
		path = decodeURIComponent(address);
	} catch {
		return refuse(response, 400, 'The address is not well formed.');
	}
	if (path.includes('\0')) return refuse(response, 400, 'The address is not well formed.');
	if (path === base) return refuse(response, 308, 'Moved.', { location: `${base}/` });
	if (!path.startsWith(`${base}/`)) return refuse(response, 404, `The app is at ${base}/.`);
	const wanted = resolve(folder, `.${path.slice(base.length)}`);
	if (wanted !== folder && !wanted.startsWith(folder + sep)) return refuse(response, 404, 'Not found.');
	if (isFile(wanted) && !path.endsWith('/')) return send(request, response, 200, wanted);
	const page = resolve(wanted, 'index.html');
	if (isFolder(wanted) && isFile(page)) {
		if (path.endsWith('/')) return send(request, response, 200, page);
		return refuse(response, 308, 'Moved.', { location: `${base}${encodeURI(path.slice(base.length))}/` });
	}
	const missing = resolve(folder, '404.html');
	if (isFile(missing)) return send(request, response, 404, missing);
	return refuse(response, 404, 'Not found.');
}

/**
 * Serves `folder` under `base` ('' or '/name') on `port` or the next free one after it.
 * Gives the address and a function that ends the server.
 *
 * @param {string} folder
 * @param {string} base
 * @param {number} port
 * @returns {Promise<{ address: string, close: () => Promise<void> }>}
 */
export async function serve(folder, base, port) {
	const whole = resolve(folder);
	const server = createServer((request, response) => answer(whole, base, request, response));
	const listen = (port) =>
		new Promise((done, failed) => {
			server.once('error', failed);
			server.listen(port, '127.0.0.1', () => {
				server.off('error', failed);
				done(port);
			});
		});
	for (let attempt = port; ; attempt++) {
		try {
			await listen(attempt);
			return {
				address: `http://127.0.0.1:${attempt}${base}/`,
				close: () => new Promise((done) => (server.close(done), server.closeAllConnections()))
			};
		} catch (error) {
			const taken = error.code === 'EADDRINUSE' || error.code === 'EACCES';
			if (!taken || attempt >= port + 200) throw error;
		}
	}
}

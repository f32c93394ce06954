/**
 * The one Trusted Types policy for our own scripts: a worker may be started from this site's own address only.
 * Named `default`, so that the browser asks it at every `new Worker(…)`.
 */
window.trustedTypes?.createPolicy('default', {
	createScriptURL(address) {
		if (new URL(address, location.href).origin === location.origin) return address;
		throw new TypeError(`Scripts from another site are not run: ${address}`);
	}
});

/* Written in old syntax, so that an old Node gets as far as the message. */
'use strict';
var wanted = [20, 19];
var found = process.versions.node.split('.').map(Number);
if (found[0] < wanted[0] || (found[0] === wanted[0] && found[1] < wanted[1])) {
	console.error(
		'Faint Echo needs Node ' +
			wanted.join('.') +
			' or newer; this is ' +
			process.versions.node +
			'.\n' +
			'Install a newer Node, then run the same command again.'
	);
	process.exit(1);
}

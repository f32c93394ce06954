#!/usr/bin/env node
import { run } from './run.ts';

// a reader that has seen enough, such as `head`, is no error
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
	if (error.code !== 'EPIPE') throw error;
	process.exit();
});

process.exitCode = await run(process.argv.slice(2), {
	print: (text) => void process.stdout.write(`${text}\n`),
	note: (text) => void process.stderr.write(`${text}\n`)
});

import { readFileSync } from 'node:fs';
import { format, resolveConfig } from 'prettier';
import { parse } from 'yaml';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { benchJsonSchema } from '#lib/files/bench-file.ts';
import { lessonJsonSchema } from '#lib/lesson/schema.ts';

/** The published files, written anew by `npx vitest run tests/unit/files/schema.test.ts --update`. */
const published = {
	bench: { schema: benchJsonSchema(), file: '../../../static/schema/bench.json' },
	lesson: { schema: lessonJsonSchema(), file: '../../../static/schema/lesson.json' }
};

test.each(Object.entries(published))(
	'the published JSON Schema of a %s is current',
	async (_, { schema, file }) => {
		const config = await resolveConfig(import.meta.filename);
		const text = await format(JSON.stringify(schema, null, '\t'), { ...config, parser: 'json' });
		await expect(text).toMatchFileSnapshot(file);
	}
);

test('the published schema takes a saved bench and refuses an unknown key and a missing setup', () => {
	const text = readFileSync(new URL(published.bench.file, import.meta.url), 'utf8');
	const schema = z.fromJSONSchema(JSON.parse(text) as Parameters<typeof z.fromJSONSchema>[0]);
	const saved = new URL('../../reference/data/bench-v1/mast.bench.yaml', import.meta.url);
	const bench = parse(readFileSync(saved, 'utf8')) as { setup: object };
	expect(schema.safeParse(bench).error?.issues).toBeUndefined();
	expect(schema.safeParse({ ...bench, setup: { ...bench.setup, colour: 'blue' } }).success).toBe(false);
	expect(schema.safeParse({ 'faint echo bench': 1 }).success).toBe(false);
});

import { z } from 'zod';

/** What stands in a file of the reference form; every entry says in words what is allowed there. */

const node = z.union([z.string().min(1), z.number().int().transform(String)], {
	error: 'Give the name of a node'
});
const nodesAllowed = (count: string, what: string): { error: string } => ({
	error: `Give a list of the ${count} nodes: ${what}`
});
const two = z.tuple([node, node], nodesAllowed('two', 'from, to'));
const three = (what: string) => z.tuple([node, node, node], nodesAllowed('three', what));
const four = (what: string) => z.tuple([node, node, node, node], nodesAllowed('four', what));
const text = (what: string) => z.string({ error: what }).min(1, { error: what });
const name = text('Give a name');
const model = text('Give the name of a model');
const value = z.number({ error: 'Give a number in SI units, such as 4.7e-12' });
const ends = four('two of the near end, two of the far end');

const KINDS = 'R, L, C, V, G, T, TL, D, Q or J';

const elementSchema = z.discriminatedUnion(
	'kind',
	[
		z.object({ kind: z.literal('R'), name, nodes: two, value }),
		z.object({ kind: z.literal('L'), name, nodes: two, value, rs: value.default(0) }),
		z.object({ kind: z.literal('C'), name, nodes: two, value }),
		z.object({ kind: z.literal('V'), name, nodes: two, value }),
		z.object({ kind: z.literal('G'), name, nodes: four('from, to, and the two that control it'), value }),
		z.object({ kind: z.literal('T'), name, nodes: ends, z0: value, td: value }),
		z.object({ kind: z.literal('TL'), name, nodes: ends, r: value, l: value, c: value, len: value }),
		z.object({ kind: z.literal('D'), name, nodes: two, model }),
		z.object({ kind: z.literal('Q'), name, nodes: three('collector, base, emitter'), model }),
		z.object({ kind: z.literal('J'), name, nodes: three('drain, gate, source'), model })
	],
	{ error: `Give an element with its kind: ${KINDS}` }
);

const group = (what: string): { error: string } => ({ error: `Give ${what}, each by its name` });
const positive = z
	.number({ error: 'Give a frequency in Hz, above zero' })
	.positive({ error: 'Give a frequency in Hz, above zero' });
const level = z.number({ error: 'Give a level in dBm' });
const count = (what: string) => z.number({ error: what }).int({ error: what }).positive({ error: what });
const supplies = z.record(z.string(), value, group('the voltages of supplies')).default({});
const analysisSchema = z.discriminatedUnion(
	'type',
	[
		z.object({
			type: z.literal('ac'),
			name,
			freqs_hz: z.object(
				{ start: value, stop: value, points: count('Give how many frequencies, 1 or more') },
				{ error: 'Give start and stop in Hz, and points' }
			),
			terminations_ohm: z.record(z.string(), value, group('resistances in Ω')).optional(),
			set: supplies
		}),
		z.object({
			type: z.literal('tran'),
			name,
			freqs_hz: z
				.array(positive, { error: 'Give a list of frequencies in Hz' })
				.min(1, { error: 'Give at least one frequency in Hz' }),
			dbm: z
				.array(level, { error: 'Give a list of levels in dBm' })
				.min(1, { error: 'Give at least one level in dBm' }),
			set: supplies
		}),
		z.object({
			type: z.literal('study'),
			name,
			points: z.array(z.tuple([positive, level], { error: 'Give a frequency in Hz and a level in dBm' }), {
				error: 'Give a list of points, each a frequency in Hz and a level in dBm'
			}),
			set: supplies
		})
	],
	{ error: 'Give an analysis with its type: ac, tran or study' }
);

const list = (what: string): { error: string } => ({ error: `Give a list of ${what}` });
export const schema = z.object(
	{
		elements: z.array(elementSchema, list('elements')).min(1, { error: 'Give at least one element' }),
		models: z
			.record(
				z.string(),
				z.record(z.string(), value, group('the parameters of the model')),
				group('the models')
			)
			.default({}),
		ports: z
			.array(
				z.object(
					{ n: count('Give the number of the port: 1, 2, …'), node },
					{ error: 'Give a port with its number n and its node' }
				),
				list('ports')
			)
			.min(1, { error: 'Give at least one port' }),
		probes: z
			.array(
				z.union([z.object({ name, element: name }), z.object({ name, node })], {
					error: 'Give a probe with its name, and the element or the node it reads'
				}),
				list('probes')
			)
			.default([]),
		analyses: z.array(analysisSchema, list('analyses')).default([])
	},
	{ error: 'Give a circuit: elements, models, ports, probes and analyses' }
);

export type Written = z.infer<typeof schema>;

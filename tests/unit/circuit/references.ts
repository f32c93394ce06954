import { readReferenceForm } from '#lib/circuit/reference-form.ts';
import type { Netlist } from '#lib/circuit/netlist.ts';

const files = import.meta.glob('../../reference/data/circuits/*.json', { eager: true, import: 'default' });

/** One of the reference circuits, read from its file. */
export const referenceNetlist = (id: string): Netlist =>
	readReferenceForm(files[`../../reference/data/circuits/${id}.json`]).netlist;

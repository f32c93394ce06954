/** The trade's terms in two sentences each; lessons link to them with `[words](glossary:term)`. */
export interface GlossaryEntry {
	readonly name: string;
	readonly meaning: string;
}

const entries: Record<string, GlossaryEntry> = {
	'reflection-coefficient': {
		name: 'reflection coefficient',
		meaning:
			'The returning wave divided by the outgoing wave at one plane, written Γ: a size and an angle. It is 0 when nothing returns and has size 1 when everything does.'
	},
	'return-loss': {
		name: 'return loss',
		meaning:
			'How far the returning wave lies below the outgoing one, in decibels: −20 log₁₀ of the size of Γ. It is a positive number for a passive device, though many people write it with a minus.'
	},
	swr: {
		name: 'SWR',
		meaning:
			'Standing wave ratio: the largest voltage along a line divided by the smallest, (1 + |Γ|)/(1 − |Γ|). It is 1 for a perfect match and grows without end; it says nothing about the angle of Γ.'
	},
	'smith-chart': {
		name: 'Smith chart',
		meaning:
			'The plane of Γ with circles of equal resistance and arcs of equal reactance drawn on it. The centre is the reference impedance, the left end a short, the right end an open.'
	},
	impedance: {
		name: 'impedance',
		meaning:
			'Voltage divided by current at one plane, in ohms: resistance R plus j times reactance X. It is worked out from Γ; a reflection instrument does not read it directly.'
	},
	decibel: {
		name: 'decibel',
		meaning:
			'Ten times the logarithm of a ratio of powers, or twenty times that of a ratio of voltages. 3 dB is about twice the power, 10 dB ten times, 20 dB a hundred times.'
	},
	dbm: {
		name: 'dBm',
		meaning:
			'Power in decibels above one milliwatt. Here it is always the power available into 50 Ω at the plane named.'
	},
	level: {
		name: 'level',
		meaning:
			'The power of a wave at one plane, in dBm. The level that is set at the source is not the level that arrives at the device.'
	},
	pad: {
		name: 'pad',
		meaning:
			'A small network of resistors that lowers every wave passing it by a fixed number of decibels, in either direction. Another word is attenuator.'
	},
	'noise-floor': {
		name: 'noise floor',
		meaning:
			'The level of the receiver’s own noise at the present bandwidth and averages. A wave that returns below it cannot be told from noise in one reading.'
	},
	ceiling: {
		name: 'ceiling',
		meaning:
			'The level at which the device no longer answers as it does to a faint signal: |ΔΓ| reaches 0.01, or what is set for it. It lies below the level that breaks the device, often far below.'
	},
	's-unit': {
		name: 'S unit',
		meaning:
			'A step of 6 dB in the strength of a received signal. Above 30 MHz S9 is −93 dBm at the connector, 5 µV across 50 Ω; stronger signals are told in decibels above it (IARU Region 1, Technical Recommendation R.1).'
	},
	'absolute-maximum': {
		name: 'absolute maximum',
		meaning:
			'What a data sheet says a device survives: a level, a voltage or a current. It promises nothing of how the device answers there.'
	},
	'breaking-level': {
		name: 'breaking level',
		meaning:
			'The level at the connector at which something inside reaches its absolute maximum. What breaks there stays broken until it is replaced.'
	},
	gain: {
		name: 'gain',
		meaning:
			'How far the level at the output lies above the level that the line offers to the input, in decibels. A preamp has gain, a pad has loss.'
	},
	'gain-compression': {
		name: 'gain compression',
		meaning:
			'The fall of the gain as the level rises, since the output can no longer follow. Data sheets give the level at which 1 dB of gain is lost.'
	},
	'at-rest': {
		name: 'at rest',
		meaning:
			'As a device is at a level too small to move it. A front end answers a faint signal as it does at rest, and a strong one differently.'
	},
	truth: {
		name: 'truth',
		meaning:
			'The exact answer of the simulated device, hidden until it is revealed. A real bench has no such button.'
	},
	cascode: {
		name: 'cascode',
		meaning:
			'Two transistors one on top of the other. The upper one keeps most of the output away from the input of the lower.'
	},
	corridor: {
		name: 'corridor',
		meaning:
			'The level diagram between its two walls, the ceiling above and the floor below. A good set-up keeps the outgoing wave under the one and the returning wave above the other.'
	},
	'reference-plane': {
		name: 'reference plane',
		meaning:
			'The place along the line that a reading speaks of. Moving it by a piece of line turns Γ around the centre of the Smith chart.'
	},
	marker: {
		name: 'marker',
		meaning:
			'A frequency at which the reading is given in numbers. It is drawn on every picture at the same frequency.'
	},
	spread: {
		name: 'spread',
		meaning:
			'How far readings lie from their mean: the radius that holds 95 % of the cloud. It speaks of noise alone; a steady error leaves it small.'
	},
	averaging: {
		name: 'averaging',
		meaning:
			'Taking the mean of many sweeps, as vectors. White noise falls with the square root of their number; errors that stay the same do not fall at all.'
	},
	echo: {
		name: 'echo',
		meaning:
			'The returning wave: the share of the outgoing wave that a device sends back. It passes the same line on its way to the receiver, the other way round.'
	},
	load: {
		name: 'load',
		meaning:
			'What hangs at the end of a line and takes the power that reaches it. A known load has a resistance, and perhaps a reactance, that one may rely on.'
	},
	reactance: {
		name: 'reactance',
		meaning:
			'The part of an impedance that stores and gives back, written jX, in ohms. It is above zero for a coil, below zero for a capacitor and zero for a plain resistor.'
	},
	bandwidth: {
		name: 'bandwidth',
		meaning:
			'How wide a band of noise the receiver lets in while it takes a reading. A tenth of the bandwidth lowers the floor by 10 dB and takes about ten times as long.'
	},
	calibration: {
		name: 'calibration',
		meaning:
			'Measuring known standards to learn what the instrument and the line add, so that it can be taken out again. It holds only while the line stays as it was.'
	},
	match: {
		name: 'match',
		meaning: 'A device whose impedance equals the reference impedance, 50 Ω here. Nothing returns from it.'
	}
};

export const glossary: ReadonlyMap<string, GlossaryEntry> = new Map(Object.entries(entries));

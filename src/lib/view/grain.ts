/** The hatch that means too loud: width and spacing of its lines, which run at 45°. */
export const HATCH = { width: 1.7, spacing: 9 };

/**
 * The grain that means noise: dots that look strewn but are the same every time. Their places follow the plane's
 * golden-ratio sequence (Roberts 2018), shaken a little so that no lattice shows.
 */
export const GRAIN_TILE = 132;
const COUNT = 190;
const PLASTIC = 1.32471795724474602596;
const RADII = [1.1, 1.3, 1.5, 1.7];

const fraction = (value: number): number => value - Math.floor(value);

/** Path data for each radius: a dot is a stroke without length, drawn with round ends. */
export const grain = RADII.map((radius, r) => {
	let data = '';
	for (let k = r; k < COUNT; k += RADII.length) {
		const shakeX = fraction(Math.sin(k * 12.9898) * 43758.5453) - 0.5;
		const shakeY = fraction(Math.sin(k * 78.233) * 24634.6345) - 0.5;
		const x = fraction(0.5 + k / PLASTIC + shakeX * 0.045) * GRAIN_TILE;
		const y = fraction(0.5 + k / PLASTIC ** 2 + shakeY * 0.045) * GRAIN_TILE;
		// a dot cut by the tile's edge shows its other part at the opposite edge
		for (const dx of [-GRAIN_TILE, 0, GRAIN_TILE]) {
			for (const dy of [-GRAIN_TILE, 0, GRAIN_TILE]) {
				const [px, py] = [x + dx, y + dy];
				const inside = px > -radius && px < GRAIN_TILE + radius && py > -radius && py < GRAIN_TILE + radius;
				if (inside) data += `M${px.toFixed(1)} ${py.toFixed(1)}h0`;
			}
		}
	}
	return { radius, data };
});

/**
 * Takes the pictures of the README: `node scripts/screenshots.js ADDRESS` while the app runs at that address
 * (`npm start` and `npm run dev` print theirs).
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { crc32, deflateSync } from 'node:zlib';
import { chromium } from 'playwright';
import { browserArguments, findBrowser } from './browser.js';
import { root } from './project.js';

const [address] = process.argv.slice(2);
if (!address) throw new Error('Name the address of the running app: node scripts/screenshots.js ADDRESS');

const browser = await chromium.launch({ executablePath: await findBrowser(), args: browserArguments });
const size = { width: 1440, height: 900 };
const page = await browser.newPage({ viewport: size, reducedMotion: 'reduce' });
const easel = await browser.newPage();

/** The colours of a picture, 0xRRGGBB a pixel, read back by the browser. */
const pixelsOf = (png) =>
	easel.evaluate(async (encoded) => {
		const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${encoded}`)).blob());
		const context = new OffscreenCanvas(image.width, image.height).getContext('2d');
		context.drawImage(image, 0, 0);
		const { data } = context.getImageData(0, 0, image.width, image.height);
		return Array.from({ length: data.length / 4 }, (_, i) => {
			return (data[4 * i] << 16) | (data[4 * i + 1] << 8) | data[4 * i + 2];
		});
	}, png.toString('base64'));

const channels = (colour) => [colour >> 16, (colour >> 8) & 255, colour & 255];
const distance = (a, b) => a.reduce((sum, value, i) => sum + (value - b[i]) ** 2, 0);

/** The same picture with its 256 commonest colours, a third of the size. */
function withPalette(pixels, { width, height }) {
	const counts = new Map();
	for (const colour of pixels) counts.set(colour, (counts.get(colour) ?? 0) + 1);
	const common = [...counts].sort((a, b) => b[1] - a[1]).map(([colour]) => colour);
	const palette = common.slice(0, 256).map(channels);
	const nearest = (colour) =>
		palette.reduce(
			(best, entry, i) => (distance(entry, colour) < distance(palette[best], colour) ? i : best),
			0
		);
	const indices = new Map(common.map((colour) => [colour, nearest(channels(colour))]));
	const rows = Buffer.alloc(height * (width + 1));
	pixels.forEach((colour, i) => {
		rows[Math.floor(i / width) * (width + 1) + 1 + (i % width)] = indices.get(colour);
	});
	const header = Buffer.from([0, 0, 0, 0, 0, 0, 0, 0, 8, 3, 0, 0, 0]);
	header.writeUInt32BE(width, 0);
	header.writeUInt32BE(height, 4);
	return Buffer.concat([
		Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
		chunk('IHDR', header),
		chunk('PLTE', Buffer.from(palette.flat())),
		chunk('IDAT', deflateSync(rows, { level: 9 })),
		chunk('IEND', Buffer.alloc(0))
	]);
}

function chunk(name, data) {
	const named = Buffer.concat([Buffer.from(name, 'latin1'), data]);
	const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
	length.writeUInt32BE(data.length);
	sum.writeUInt32BE(crc32(named));
	return Buffer.concat([length, named, sum]);
}

async function shoot(name) {
	await page.mouse.move(0, 0);
	await page.waitForTimeout(1000);
	const pixels = await pixelsOf(await page.screenshot());
	writeFileSync(join(root, 'docs', 'images', `${name}.png`), withPalette(pixels, size));
}

const button = (name) => page.getByRole('button', { name, exact: true });

await page.goto(address);
await page.getByText('64 of 64 averages').waitFor();
await button('Show the level').click();
const level = page.getByRole('slider', { name: 'Source level' });
for (let step = 0; step < 3; step++) await level.press('Shift+ArrowUp');
await page.getByRole('checkbox', { name: 'truth' }).check({ force: true });
await button('R and X against level').click();
await shoot('bench');
await button('First lesson').click();
await button('Projector').click();
await page.getByRole('button', { name: 'Open the notebook' }).click();
await shoot('projector');
await browser.close();

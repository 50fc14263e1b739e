// Every page in paths.mjs, as four readers see it.
import assert from 'node:assert/strict';
import test from 'node:test';
import { accessible, fits, open, picture } from './setup.mjs';
import { paths } from './paths.mjs';

for (const path of paths) {
	for (const colorScheme of ['light', 'dark']) {
		for (const width of [1000, 360]) {
			test(`${path} is accessible, ${colorScheme}, ${width} wide`, async (t) => {
				const page = await open(t, path, { colorScheme, viewport: { width, height: 800 } });
				await page.waitForLoadState('networkidle');
				assert.deepEqual([page.refused, page.faults], [[], []]);
				await picture(page, `${path.replace(/\W+/g, '-').slice(1)}-${colorScheme}-${width}`);
				await accessible(page);
				await fits(page);
			});
		}
	}
}

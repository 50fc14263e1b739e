// Every page in paths.mjs, as four readers see it.
import assert from 'node:assert/strict';
import test from 'node:test';
import { everyLook, open, picture } from './setup.mjs';
import { paths } from './paths.mjs';

for (const path of paths) {
	test(`${path} is accessible, light and dark, wide and on a phone`, async (t) => {
		const page = await open(t, path);
		await page.waitForLoadState('networkidle');
		await everyLook(page, (look) => picture(page, `${path.replace(/\W+/g, '-').slice(1)}-${look}`));
		assert.deepEqual([page.refused, page.faults], [[], []]);
	});
}

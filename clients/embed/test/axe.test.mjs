// Every page in paths.mjs, as its readers see it.
import assert from 'node:assert/strict';
import { describe, test } from 'node:test';
import { allLooks, everyLook, open, picture } from './setup.mjs';
import { paths } from './paths.mjs';

describe('each page', { concurrency: 3 }, () => {
	for (const path of paths.filter((_, i) => allLooks || i % 6 === 0)) {
		test(`${path} is accessible`, async (t) => {
			const page = await open(t, path);
			await page.waitForLoadState('networkidle');
			await everyLook(page, (look) => picture(page, `${path.replace(/\W+/g, '-').slice(1)}-${look}`));
			assert.deepEqual([page.refused, page.faults], [[], []]);
		});
	}
});

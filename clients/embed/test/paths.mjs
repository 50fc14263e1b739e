// The pages that axe visits. Add a path and it is held to WCAG 2.2 AA, wide
// and on a phone, light and dark.
export const paths = [
	'/embed',
	'/embed/converter',
	'/embed/salt',
	'/embed/transfer',
	'/embed/species',
	'/embed/frame/converter?reading=1.010%20SG&lang=de&units=us',
	'/embed/frame/transfer?lang=de',
	'/',
	'/?target=1.010%20SG&volume=120%20gal',
	'/docs',
	'/docs/instruments',
	'/docs/making-water',
	'/docs/dripping',
	'/docs/ramping',
	'/docs/pitfalls',
	'/docs/hosting',
	'/docs/changelog',
	'/docs/console',
	'/problems/no-plan',
];

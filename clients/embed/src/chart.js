// The picture of a plan, drawn by the service and shown inline, so that a page
// need allow no image. Its own style is taken out before it is parsed, since a
// strict policy would report it; the colours are those of the element.
const drawn = ['title', 'desc', 'rect', 'text', 'path', 'polyline'];

let policy; // where a page takes trusted types only, its policy must allow the name saltlock

const parse = (text) => {
	policy ??= globalThis.trustedTypes?.createPolicy('saltlock', { createHTML: (s) => s }) ?? { createHTML: (s) => s };
	return new DOMParser().parseFromString(policy.createHTML(text.replace(/<style>.*<\/style>/s, '')), 'image/svg+xml').documentElement;
};

/** Puts the picture at the URL into the figure, drawing only what a chart is made of. */
export const chart = async (figure, url) => {
	const response = await fetch(url);
	if (!response.ok) return;
	const svg = parse(await response.text());
	for (const e of [svg, ...svg.querySelectorAll('*')]) {
		if (e !== svg && !drawn.includes(e.localName)) e.remove();
		for (const name of e.getAttributeNames()) if (/^on|href/i.test(name)) e.removeAttribute(name);
	}
	figure.replaceChildren(svg);
};

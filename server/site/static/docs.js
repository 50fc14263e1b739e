// Adds to the reference what takes a script: a field that finds operations, and buttons
// that copy. Without it the page says the same, and the browser finds in it.
const side = document.querySelector('.side');
const operations = [...document.querySelectorAll('.operation')].map((article) => ({
	article,
	entry: side.querySelector(`a[href="#${article.id}"]`).parentElement,
	text: article.textContent.toLowerCase(),
}));

const make = (tag, props, ...children) => {
	const e = Object.assign(document.createElement(tag), props);
	e.append(...children);
	return e;
};

// Finding: every word must be in the operation.
const field = make('input', { id: 'find-operation', type: 'search', autocomplete: 'off' });
const told = make('p', { className: 'hint', role: 'status' });
side.querySelector('h2').after(make('label', { htmlFor: field.id }, 'Find in all operations'), field, told);
field.oninput = () => {
	const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
	let found = 0;
	for (const { article, entry, text } of operations) {
		const fits = words.every((w) => text.includes(w));
		article.hidden = entry.hidden = !fits;
		found += fits;
	}
	for (const group of document.querySelectorAll('.reference section, .side ul')) {
		const empty = ![...group.querySelectorAll('.operation, li')].some((e) => !e.hidden);
		group.hidden = empty;
		if (group.matches('ul')) group.previousElementSibling.hidden = empty;
	}
	told.textContent = words.length ? `${found} of ${operations.length} operations` : '';
};

// Copying.
for (const pre of document.querySelectorAll('.reference pre')) {
	const button = make('button', { type: 'button', className: 'second copy' }, 'Copy');
	button.ariaLabel = 'Copy: ' + (pre.ariaLabel ?? pre.textContent.slice(0, 40));
	button.onclick = async () => {
		await navigator.clipboard.writeText(pre.textContent);
		button.textContent = 'Copied';
		setTimeout(() => { button.textContent = 'Copy'; }, 2000);
	};
	if (navigator.clipboard) pre.before(button);
}

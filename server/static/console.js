// Starts the console on this server's own contract, and names for those who
// hear the page what the console leaves without a name.
const place = document.getElementById('console')

const names = [
  ['.opblock-summary-control', (e) => e.textContent.trim()],
  ['.copy-to-clipboard button, .copy-to-clipboard', () => 'Copy to the clipboard'],
  ['.expand-operation', () => 'Open or close this group'],
  ['.parameters select, .parameters input, .parameters textarea', (e) => e.closest('tr')?.dataset.paramName],
  ['.body-param textarea', () => 'Body of the request'],
  ['.body-param-content-type select', () => 'Media type of the body'],
  ['.response-control-media-type select, .content-type', () => 'Media type of the answer'],
]

function mend() {
  for (const [selector, name] of names) {
    for (const element of place.querySelectorAll(selector)) {
      const said = name(element)
      if (said && /^(A|BUTTON|SELECT|INPUT|TEXTAREA|DIV)$/.test(element.tagName) && !element.hasAttribute('aria-label')) element.setAttribute('aria-label', said)
    }
  }
  for (const element of place.querySelectorAll('[role=main], main')) element.setAttribute('role', 'group') // the page has its own
  // What scrolls must be reached by the keyboard too.
  for (const element of place.querySelectorAll('pre, .table-container')) if (!element.hasAttribute('tabindex')) element.tabIndex = 0
}

SwaggerUIBundle({
  url: '/openapi.json',
  domNode: place,
  deepLinking: true,
  validatorUrl: null,
  defaultModelsExpandDepth: -1,
  docExpansion: 'list',
  presets: [SwaggerUIBundle.presets.apis],
  layout: 'BaseLayout',
  // The page says what the contract is about; the only server to ask is this one.
  plugins: [() => ({ components: { info: () => null, ServersContainer: () => null } })],
  // The contract names a server by hand; the one to ask is this one.
  requestInterceptor: (request) => {
    const asked = new URL(request.url, location.href)
    if (asked.pathname !== '/openapi.json') request.url = location.origin + asked.pathname + asked.search
    return request
  },
  onComplete: mend,
})
new MutationObserver(mend).observe(place, { childList: true, subtree: true })

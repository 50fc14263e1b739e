// Starts the console on this server's own contract, and names for those who
// hear the page what the console leaves without a name.
const place = document.getElementById('console')

// Its dark sheet is for a class of the page, which goes by the scheme of the reader.
const dark = matchMedia('(prefers-color-scheme: dark)')
const follow = () => document.documentElement.classList.toggle('dark-mode', dark.matches)
dark.addEventListener('change', follow)
follow()

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
  // A control holds no other control.
  for (const element of place.querySelectorAll('.opblock-summary-control a')) {
    element.tabIndex = -1
    element.removeAttribute('href')
  }
  // What scrolls must be reached by the keyboard too.
  for (const element of place.querySelectorAll('pre, .table-container')) if (!element.hasAttribute('tabindex')) element.tabIndex = 0
}

// tried leaves the examples of what a first try needs; the console would send
// every parameter that has one, and many exclude each other.
function tried(contract) {
  for (const path of Object.values(contract.paths)) {
    for (const operation of Object.values(path)) {
      operation.parameters = operation.parameters?.map((given) => {
        const parameter = given.$ref ? contract.components.parameters[given.$ref.split('/').pop()] : given
        const needed = parameter.required || parameter['x-try'] === true || parameter['x-try'] === operation.operationId
        if (needed) return given
        const { $ref, format, ...schema } = parameter.schema
        const named = $ref ? contract.components.schemas[$ref.split('/').pop()] : parameter.schema
        const { example, ...rest } = { ...named, ...schema }
        return { ...parameter, example: undefined, schema: rest }
      })
    }
  }
  return contract
}

// sheet is a layout of the operations alone: the page around it has the main
// part and says what the contract is about, and the only server to ask is this.
const sheet = ({ React }) => ({
  components: {
    Sheet: ({ getComponent }) => React.createElement('div', { className: 'swagger-ui' },
      React.createElement(getComponent('SvgAssets')), React.createElement(getComponent('operations', true))),
  },
})

const contract = await (await fetch('/openapi.json')).json()
SwaggerUIBundle({
  spec: tried(contract),
  domNode: place,
  deepLinking: true,
  validatorUrl: null,
  defaultModelsExpandDepth: -1,
  docExpansion: 'none',
  presets: [SwaggerUIBundle.presets.apis],
  layout: 'Sheet',
  plugins: [sheet],
  requestInterceptor: (request) => {
    const asked = new URL(request.url, location.href)
    request.url = location.origin + asked.pathname + asked.search
    return request
  },
  onComplete: mend,
})
new MutationObserver(mend).observe(place, { childList: true, subtree: true })

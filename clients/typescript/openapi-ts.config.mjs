// How src/gen is made from the contract: npm run generate.
import { readFileSync } from 'node:fs';
import { parse } from 'yaml';

const contract = parse(readFileSync(new URL('../../openapi.yaml', import.meta.url), 'utf8'));

// These turn the answer into something else than its schema, and a typed answer
// would lie; text() and url() have them.
const shaping = ['format', 'only', 'sep', '_'];
const isShaping = (parameter) => {
  const [, name] = /^#\/components\/parameters\/(.+)$/.exec(parameter.$ref ?? '') ?? [];
  return shaping.includes(name ? contract.components.parameters[name].name : parameter.name);
};

for (const [path, item] of Object.entries(contract.paths)) {
  for (const [method, operation] of Object.entries(item)) {
    if (operation.tags?.includes('service')) {
      delete item[method]; // probes and pages are not asked through a client
    } else if (operation.parameters) {
      operation.parameters = operation.parameters.filter((parameter) => !isShaping(parameter));
    }
  }
  if (Object.keys(item).length === 0) delete contract.paths[path];
}

export default {
  input: contract,
  output: { path: 'src/gen', importFileExtension: '.js' },
  plugins: ['@hey-api/typescript', '@hey-api/sdk', '@hey-api/client-fetch'],
};

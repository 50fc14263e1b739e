// Saltlock from TypeScript and JavaScript. What is asked and answered is generated
// in gen/; here is how to reach a service, and what happens when it refuses.
import { createClient, createConfig, type Client } from './gen/client/index.js';
import type { Fault, Problem } from './gen/types.gen.js';
import { steady, retryAfter, type Patience } from './steady.js';

export * from './gen/index.js';
export type { Client } from './gen/client/index.js';
export type { Patience } from './steady.js';

/** How to reach a service; nothing of it is needed. */
export interface Options extends Patience {
  /** Sends the requests; the fetch of the platform if not given. */
  fetch?: typeof globalThis.fetch;
}

/**
 * A service at its address. Give it to every question:
 *
 *     const service = connect('http://127.0.0.1:8080');
 *     const { data, error } = await getSaltMix({ client: service, query: { target: '1.010 SG', volume: '120 gal' } });
 *
 * `error` is a {@link ProblemError}; with `throwOnError: true` it is thrown instead.
 */
export function connect(baseUrl: string, options: Options = {}): Client {
  const client = createClient(createConfig({ baseUrl, fetch: steady(options, options.fetch) }));
  client.interceptors.error.use((error, response) => new ProblemError(error, response));
  return client;
}

/** A refusal: a problem document (RFC 9457) with every fault of the request. */
export class ProblemError extends Error implements Problem {
  /** Page that explains this type of problem; about:blank where none was written. */
  readonly type: string;
  readonly title: string;
  /** HTTP status; 0 where nothing answered, or not in time. */
  readonly status: number;
  readonly detail?: string;
  readonly request_id?: string;
  /** What is wrong, where, and what to do. */
  readonly errors: Fault[];
  /** Seconds that the service asked to be left alone. */
  readonly retryAfter?: number;

  constructor(cause: unknown, response?: Response) {
    const problem = toProblem(cause, response);
    const faults = problem.errors ?? [];
    const lines = faults.length > 0 ? faults.map((fault) => `${fault.where}: ${fault.reason}`) : problem.detail ? [problem.detail] : [];
    super([`${problem.status} ${problem.title}`, ...lines].join('\n'), { cause });
    this.name = 'ProblemError';
    this.type = problem.type;
    this.title = problem.title;
    this.status = problem.status;
    this.detail = problem.detail;
    this.request_id = problem.request_id;
    this.errors = faults;
    this.retryAfter = response && retryAfter(response);
  }
}

function toProblem(cause: unknown, response?: Response): Problem {
  if (response?.headers.get('Content-Type')?.startsWith('application/problem+json') && isProblem(cause)) return cause;
  if (response && !response.ok) {
    // Something before the service refused, and wrote no document.
    return { type: 'about:blank', title: response.statusText || 'Refused', status: response.status };
  }
  const detail = cause instanceof Error ? cause.message : String(cause);
  return { type: 'about:blank', title: 'No answer', status: 0, detail };
}

function isProblem(cause: unknown): cause is Problem {
  return typeof cause === 'object' && cause !== null && 'title' in cause && 'status' in cause;
}

/** Forms of an answer other than JSON. */
export type Form = 'text' | 'csv' | 'svg' | 'png' | 'ics';

/** What the Data type of a question says of its URL. */
interface Question {
  url: string;
  query?: unknown;
  path?: unknown;
}

/**
 * The URL of an answer in another form, for a link, a picture or a calendar:
 *
 *     const src = urlOf<GetTransferPlanData>(service, 'png', { url: '/v1/transfers/plan', query });
 */
export function urlOf<Q extends Question>(client: Client, form: Form, question: Pick<Q, 'url' | 'query' | 'path'>): string {
  return client.buildUrl({ ...question, query: { ...(question.query as object), format: form } } as Parameters<Client['buildUrl']>[0]);
}

/** The answer in a few short lines for a person. */
export async function textOf<Q extends Question>(client: Client, question: Pick<Q, 'url' | 'query' | 'path'>): Promise<string> {
  const { data } = await client.get<string, Problem, true>({
    url: question.url,
    path: question.path as Record<string, unknown>,
    query: { ...(question.query as object), format: 'text' },
    headers: { Accept: 'text/plain, application/problem+json' },
    parseAs: 'text',
    throwOnError: true,
  });
  return data.trimEnd();
}

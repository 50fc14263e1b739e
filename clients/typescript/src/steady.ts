// A fetch that asks again where that is safe, when the service says so.

export interface Patience {
  /** Milliseconds for one attempt; 10 000 if not given. */
  timeout?: number;
  /** Attempts after the first; 3 if not given. */
  retries?: number;
  /** Seconds of a Retry-After that are waited for; 30 if not given. A longer one ends the call at once. */
  longestWait?: number;
}

/**
 * Wraps fetch: turned away with 429 or 503 it asks again, and for a GET also where no service was found.
 * A POST gets an Idempotency-Key if it has none, so that nothing is saved twice.
 */
export function steady({ timeout = 10_000, retries = 3, longestWait = 30 }: Patience, send: typeof fetch = fetch): typeof fetch {
  return async (input, init) => {
    const request = new Request(input, init);
    if (request.method === 'POST' && !request.headers.has('Idempotency-Key')) request.headers.set('Idempotency-Key', randomUUID());
    for (let attempt = 0; ; attempt++) {
      const last = attempt >= retries;
      let wait: number | undefined;
      try {
        const signal = AbortSignal.any([request.signal, AbortSignal.timeout(timeout)]);
        const response = await send(new Request(request.clone(), { signal }));
        if (!mayRepeat(request, response)) return response;
        wait = retryAfter(response) ?? backoff(attempt);
        if (last || wait > longestWait) return response;
        await response.body?.cancel();
      } catch (error) {
        // A request that is not a read may have been carried out.
        if (last || request.method !== 'GET' || request.signal.aborted) throw error;
        wait = backoff(attempt);
      }
      await pause(wait, request.signal);
    }
  };
}

/** One of version 4 (RFC 9562); crypto.randomUUID is not there on pages without TLS. */
function randomUUID(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  const hex = Array.from(bytes, (byte, i) => (i === 6 ? (byte & 15) | 64 : i === 8 ? (byte & 63) | 128 : byte).toString(16).padStart(2, '0')).join('');
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-');
}

function mayRepeat(request: Request, response: Response): boolean {
  if (response.status === 429 || response.status === 503) return true;
  return request.method === 'GET' && (response.status === 502 || response.status === 504);
}

/** Seconds; doubles with each attempt, half of it left to chance, so that clients do not come back together. */
export function backoff(attempt: number): number {
  const most = Math.min(0.5 * 2 ** Math.min(attempt, 5), 10);
  return most * (0.5 + Math.random() / 2);
}

/** Seconds of the header in both its forms, a number or a date of HTTP. */
export function retryAfter(response: Response): number | undefined {
  const text = response.headers.get('Retry-After')?.trim();
  if (!text) return undefined;
  if (/^[0-9]{1,9}$/.test(text)) return Number(text);
  const at = Date.parse(text);
  return Number.isNaN(at) ? undefined : Math.max(0, (at - Date.now()) / 1000);
}

function pause(seconds: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve, reject) => {
    const stop = () => {
      clearTimeout(timer);
      reject(signal.reason);
    };
    const timer = setTimeout(() => {
      signal.removeEventListener('abort', stop);
      resolve();
    }, seconds * 1000);
    signal.addEventListener('abort', stop, { once: true });
    if (signal.aborted) stop();
  });
}

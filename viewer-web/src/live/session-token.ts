/** The token in `#token=...` is posted once for a cookie and taken out of the address before anything else happens. */

export function tokenIn(hash: string): string | undefined {
  const token = new URLSearchParams(hash.replace(/^#/, '')).get('token');
  return token === null || token === '' ? undefined : token;
}

/** Exchanges the token of the address, if there is one; resolves to a sentence where the station did not take it. */
export async function exchangeToken(post: (token: string) => Promise<string | undefined>): Promise<string | undefined> {
  const token = tokenIn(location.hash);
  if (token === undefined) return undefined;
  history.replaceState(null, '', location.pathname + location.search);
  return await post(token);
}

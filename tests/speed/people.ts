/** Connections that ask at once. */
export const CALLERS = 20
/** People who take turns at them, so that nobody comes near the limit on requests of one person. */
const HANDS = 60
export const PASSWORD = 'many at the counter'
export const PEOPLE = Array.from({ length: HANDS }, (_, n) => ({ signIn: `hand${n + 1}`, name: `Hand ${n + 1}` }))

/** Signs everybody in through the door of the service; answers their cookies. */
export async function signEverybodyIn(address: string): Promise<string[]> {
  const cookies: string[] = []
  for (const { signIn } of PEOPLE) {
    const answer = await fetch(`${address}/api/session`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'sec-fetch-site': 'same-origin' },
      body: JSON.stringify({ name: signIn, password: PASSWORD }),
    })
    const cookie = answer.headers.get('set-cookie')?.split(';')[0]
    if (!answer.ok || cookie === undefined) throw new Error(`${signIn} was not let in: ${answer.status} ${await answer.text()}`)
    cookies.push(cookie)
  }
  return cookies
}

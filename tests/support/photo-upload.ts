/** Photos as a browser sends them, and what became of them on the disk. */
import { randomUUID } from 'node:crypto'
import { readdirSync } from 'node:fs'
import sharp from 'sharp'
import type { Agent, TestApp } from './app.ts'

export interface Upload {
  bytes?: Uint8Array
  name?: string
  type?: string
  field?: string
  fields?: [string, string][]
  key?: string
  contentType?: string
  /** Leaves out the end of the body, as when the line drops. */
  cutAt?: number
}

/** Sends the parts as a form of a browser does. */
export async function upload(it: TestApp, agent: Agent, jobId: string, given: Upload) {
  const { bytes, name = 'photo.jpg', type = 'image/jpeg', field = 'photo', fields = [], key = randomUUID() } = given
  const line = `line-${randomUUID()}`
  const parts = fields.map(([what, value]) =>
    Buffer.from(`--${line}\r\ncontent-disposition: form-data; name="${what}"\r\n\r\n${value}\r\n`),
  )
  if (bytes !== undefined) {
    parts.push(
      Buffer.from(`--${line}\r\ncontent-disposition: form-data; name="${field}"; filename="${name}"\r\ncontent-type: ${type}\r\n\r\n`),
    )
    parts.push(Buffer.from(bytes), Buffer.from('\r\n'))
  }
  parts.push(Buffer.from(`--${line}--\r\n`))
  const answer = await it.app.inject({
    method: 'POST',
    url: `/api/jobs/${jobId}/photos`,
    headers: {
      cookie: agent.cookie,
      'sec-fetch-site': 'same-origin',
      'idempotency-key': key,
      'content-type': given.contentType ?? `multipart/form-data; boundary=${line}`,
    },
    payload: Buffer.concat(parts).subarray(0, given.cutAt),
  })
  return { status: answer.statusCode, headers: answer.headers, body: answer.json() }
}

export function fetchPicture(it: TestApp, agent: Agent, address: string) {
  return it.app.inject({ method: 'GET', url: address, headers: { cookie: agent.cookie, 'sec-fetch-site': 'same-origin' } })
}

/** Names of all files kept so far, half-written ones too. */
export function filesKept(it: TestApp): string[] {
  return readdirSync(it.app.files, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => entry.name)
    .sort()
}

/** A picture with a black stripe at its left edge, so that turning it can be seen. */
export function picture(width: number, height: number, background = '#cc8844') {
  const stripe = { create: { width: Math.round(width / 4), height, channels: 3, background: 'black' } } as const
  return sharp({ create: { width, height, channels: 3, background } }).composite([{ input: stripe, left: 0, top: 0 }])
}

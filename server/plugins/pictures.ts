/**
 * What is taken as a photo and what is kept of it: every picture is drawn anew as a JPEG, turned the way it was held,
 * without what the camera wrote beside it (place, time, device).
 */
import sharp from 'sharp'
import { fieldFault } from './errors.ts'

const PICTURE = { longestSide: 2400, thumbSide: 480, pixelsMost: 64_000_000, quality: 82 } as const

export interface Picture {
  jpeg: Buffer
  thumb: Buffer
  width: number
  height: number
}

// Pictures are rare beside readings: one thread each and two at a time leave the bench its server.
sharp.cache(false)
sharp.concurrency(1)
const AT_ONCE = 2
let drawing = 0
const waiting: (() => void)[] = []

/** Kind by the first bytes; the name and the announced type of a file are not asked. */
function kindOf(bytes: Uint8Array): 'jpeg' | 'png' | 'webp' | 'heic' | 'unknown' {
  const text = (from: number, to: number) => Buffer.from(bytes.subarray(from, to)).toString('latin1')
  if (text(0, 3) === '\xff\xd8\xff') return 'jpeg'
  if (text(0, 8) === '\x89PNG\r\n\x1a\n') return 'png'
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WEBP') return 'webp'
  return text(4, 8) === 'ftyp' && /^(hei|hev|mif1|msf1)/.test(text(8, 12)) ? 'heic' : 'unknown'
}

function mustBePhoto(bytes: Uint8Array): void {
  if (bytes.length === 0) throw fieldFault('/photo', 'empty', 'The file is empty: the photo did not come through. Take or send it again.')
  const kind = kindOf(bytes)
  if (kind === 'heic')
    throw fieldFault('/photo', 'kind', 'This is a HEIC picture. Set the camera to JPEG (most compatible) and send it again.')
  if (kind === 'unknown') throw fieldFault('/photo', 'kind', 'This is not a photo that can be kept. Send a JPEG, PNG or WebP picture.')
}

/** Draws the photo that is kept and its small copy. Refuses, in words, what is no photo, is broken or has too many pixels. */
export async function drawPicture(bytes: Uint8Array): Promise<Picture> {
  mustBePhoto(bytes)
  await turn()
  try {
    return await draw(bytes)
  } finally {
    drawing -= 1
    waiting.shift()?.()
  }
}

async function turn(): Promise<void> {
  if (drawing >= AT_ONCE) await new Promise<void>((resume) => waiting.push(resume))
  drawing += 1
}

async function draw(bytes: Uint8Array): Promise<Picture> {
  const size = await sharp(bytes, { limitInputPixels: false })
    .metadata()
    .catch(() => broken())
  if (size.width * size.height > PICTURE.pixelsMost)
    throw fieldFault('/photo', 'pixels', `This picture has over ${PICTURE.pixelsMost / 1_000_000} million pixels. Send a smaller one.`)
  const { data: jpeg, info } = await fitted(bytes, PICTURE.longestSide).catch(() => broken())
  const { data: thumb } = await fitted(jpeg, PICTURE.thumbSide)
  return { jpeg, thumb, width: info.width, height: info.height }
}

function broken(): never {
  throw fieldFault('/photo', 'broken', 'This picture is broken or was cut off on the way. Send it again.')
}

function fitted(bytes: Uint8Array, side: number) {
  return sharp(bytes, { limitInputPixels: PICTURE.pixelsMost, failOn: 'warning', sequentialRead: true })
    .autoOrient()
    .resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
    .flatten({ background: 'white' })
    .toColourspace('srgb')
    .jpeg({ quality: PICTURE.quality })
    .toBuffer({ resolveWithObject: true })
}

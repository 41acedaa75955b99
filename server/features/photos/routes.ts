import multipart from '@fastify/multipart'
import type { FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { photo, photoNew, photoQuery, photoStrike } from '#contract/photos.ts'
import { idParams, LIMITS } from '#contract/primitives.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { keepFile, readKept, sha256Of } from '#server/plugins/files.ts'
import { write } from '#server/plugins/idempotency.ts'
import { drawPicture } from '#server/plugins/pictures.ts'
import { addPhoto, strikePhoto } from './commands.ts'
import { findPhoto, listPhotos } from './store.ts'

const ENDING = { photo: 'jpg', thumb: 'thumb.jpg' } as const
/** A file in the document of this service, and in the handler its bytes. */
const picture = z.file().describe('JPEG') as unknown as z.ZodType<Buffer>
const A_YEAR = 'private, max-age=31536000, immutable'

export const photoRoutes: FastifyPluginAsyncZod = async (app) => {
  await app.register(uploadRoute)
  app.get(
    '/jobs/:id/photos',
    { schema: { summary: 'Photos of a job', params: idParams, response: { 200: z.array(photo), ...problemResponses } } },
    async (request) => {
      const photos = await listPhotos(app.db, request.params.id)
      if (!photos) throw notFound('This job')
      return photos
    },
  )
  app.get(
    '/photos/:id',
    {
      schema: {
        summary: 'The picture itself, or its small copy',
        params: idParams,
        querystring: photoQuery,
        response: { 200: { content: { 'image/jpeg': { schema: picture } } }, ...problemResponses },
      },
    },
    async (request, reply) => {
      const found = await findPhoto(app.db.prisma, request.params.id)
      const bytes = found && (await readKept(app.files, 'photos', found.sha256, ENDING[request.query.size ?? 'photo']))
      if (!bytes) throw notFound('This photo')
      return reply
        .header('content-type', 'image/jpeg')
        .header('cache-control', A_YEAR)
        .header('content-disposition', `attachment; filename="photo-${request.params.id}.jpg"`)
        .header('content-security-policy', "default-src 'none'; sandbox")
        .send(bytes)
    },
  )
  app.post(
    '/photos/:id/strike',
    {
      schema: {
        summary: 'Strike a photo out, with the reason',
        params: idParams,
        body: photoStrike,
        response: { 204: z.null(), ...problemResponses },
      },
    },
    async (request, reply) => {
      await write(app, request, reply, 204, (act) => strikePhoto(act, request.params.id, request.body))
      return reply.send(null)
    },
  )
}

/** The one route that takes multipart bodies; the parser is known within this scope alone. */
const uploadRoute: FastifyPluginAsyncZod = async (app) => {
  await app.register(multipart, {
    limits: { fileSize: LIMITS.photoBytes, files: 1, fields: 5, parts: 6, fieldSize: 4096, fieldNameSize: 40, headerPairs: 20 },
  })
  app.post(
    '/jobs/:id/photos',
    {
      bodyLimit: LIMITS.photoBytes + LIMITS.bodyBytes,
      preValidation: readParts,
      schema: {
        summary: 'Add a photo to a job',
        consumes: ['multipart/form-data'],
        params: idParams,
        body: photoNew,
        response: { 201: photo, ...problemResponses },
      },
    },
    async (request, reply) => {
      const { photo: file, sha256: announced, ...said } = request.body
      const sent = new Uint8Array(await file.arrayBuffer())
      const sha256OfSent = sha256Of(sent)
      if (announced !== undefined && announced !== sha256OfSent)
        throw fieldFault('/sha256', 'differs', 'The photo changed on the way. Send it again.')
      const { jpeg, thumb, width, height } = await drawPicture(sent)
      const sha256 = sha256Of(jpeg)
      await keepFile(app.files, 'photos', sha256, ENDING.photo, jpeg)
      await keepFile(app.files, 'photos', sha256, ENDING.thumb, thumb)
      const kept = { id: said.id, occurredAt: said.occurredAt, caption: said.caption, sha256, bytes: jpeg.length, width, height }
      // The fingerprint of the request is made from its body, in which the hash stands for the bytes.
      Object.assign(request, { body: { ...said, photo: sha256OfSent } })
      return write(app, request, reply, 201, (act) => addPhoto(act, request.params.id, kept))
    },
  )
}

/** Gathers the parts of an upload into the body that the schema then judges. */
async function readParts(request: FastifyRequest): Promise<void> {
  if (!request.isMultipart()) throw new Problem('unsupported-media', 'Send the photo as multipart/form-data.')
  const body = new Map<string, unknown>()
  try {
    for await (const part of request.parts()) {
      const value = part.type === 'file' ? new File([new Uint8Array(await part.toBuffer())], part.filename) : part.value
      if (body.has(part.fieldname)) throw fieldFault(`/${part.fieldname}`, 'twice', 'This part was sent twice.')
      body.set(part.fieldname, value)
    }
  } catch (error) {
    // What has a name of its own says enough; the reader of the form names no other fault than one that ends too soon.
    if (error instanceof Problem || (error instanceof Error && 'code' in error)) throw error
    throw new Problem('validation', 'The form was cut off on the way or is not well formed. Send the photo again.')
  }
  request.body = Object.fromEntries(body)
}

import type { FastifyReply, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { idParams } from '#contract/primitives.ts'
import { device, deviceNew, door, type Me, me, pinSignIn, setUp, signIn } from '#contract/sessions.ts'
import { isDemo, readSettings } from '#server/features/settings/store.ts'
import { deviceToken, giveDevice, giveSession, hashOf, newToken, takeSession } from '#server/plugins/auth.ts'
import { notFound } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { makeFirstOwner, type Opened, signInByPassword, signInByPin } from './commands.ts'
import * as store from './store.ts'

export const sessionRoutes: FastifyPluginAsyncZod = async (app) => {
  async function from(request: FastifyRequest) {
    const token = deviceToken(request)
    const tablet = token === undefined ? null : await store.findDevice(app.db, hashOf(token))
    return { address: request.ip, deviceId: tablet?.id ?? null, oldSession: request.signedIn?.sessionHash ?? null }
  }

  async function meOf(request: FastifyRequest, personId: string, endsAt: Date): Promise<Me> {
    const [person, settings, demo, at] = await Promise.all([
      store.personById(app.db, personId),
      readSettings(app.db.prisma),
      isDemo(app.db.prisma),
      from(request),
    ])
    if (!person) throw notFound('This person')
    return {
      id: person.id,
      name: person.name,
      signIn: person.signIn,
      role: person.role as Me['role'],
      maySign: person.maySign,
      hasPin: person.pinHash !== null,
      endsAt: endsAt.toISOString(),
      idleMinutes: settings.idleMinutes,
      enrolled: at.deviceId !== null,
      demo,
    }
  }

  async function welcome(request: FastifyRequest, reply: FastifyReply, opened: Opened): Promise<Me> {
    giveSession(request, reply, opened.token)
    const { sessionHours } = await readSettings(app.db.prisma)
    return meOf(request, opened.personId, new Date(app.clock().getTime() + sessionHours * 3_600_000))
  }

  app.get(
    '/door',
    { schema: { summary: 'What anybody may know before signing in', response: { 200: door, ...problemResponses } } },
    async (request) => {
      const [there, demo, settings, at] = await Promise.all([
        store.anybodyThere(app.db.prisma),
        isDemo(app.db.prisma),
        readSettings(app.db.prisma),
        from(request),
      ])
      return { setUp: there, demo, shop: settings.shopName, hands: at.deviceId === null ? [] : await store.handsWithPin(app.db) }
    },
  )
  app.post(
    '/set-up',
    {
      schema: {
        summary: 'Make the first owner of a new book with the code printed at start',
        body: setUp,
        response: { 200: me, ...problemResponses },
      },
    },
    async (request, reply) => welcome(request, reply, await makeFirstOwner(app, request.body, await from(request))),
  )
  app.post(
    '/session',
    { schema: { summary: 'Sign in', body: signIn, response: { 200: me, ...problemResponses } } },
    async (request, reply) =>
      welcome(request, reply, await signInByPassword(app, request.body.name, request.body.password, await from(request))),
  )
  app.post(
    '/session/pin',
    { schema: { summary: 'Change hands at an enrolled bench tablet', body: pinSignIn, response: { 200: me, ...problemResponses } } },
    async (request, reply) => welcome(request, reply, await signInByPin(app, request.body.personId, request.body.pin, await from(request))),
  )
  app.get('/session', { schema: { summary: 'Who is signed in', response: { 200: me, ...problemResponses } } }, (request) => {
    const caller = request.caller()
    return meOf(request, caller.id, caller.endsAt)
  })
  app.delete('/session', { schema: { summary: 'Sign out', response: { 204: z.null(), ...problemResponses } } }, async (request, reply) => {
    await store.endSession(app.db.prisma, request.caller().sessionHash, app.clock())
    takeSession(request, reply)
    return reply.code(204).send(null)
  })

  app.get('/devices', { schema: { summary: 'Enrolled bench tablets', response: { 200: z.array(device), ...problemResponses } } }, () =>
    store.listDevices(app.db),
  )
  app.post(
    '/devices',
    { schema: { summary: 'Enrol this device as a bench tablet', body: deviceNew, response: { 201: device, ...problemResponses } } },
    (request, reply) =>
      write(app, request, reply, 201, async (act) => {
        const token = newToken()
        const made = await store.addDevice(act.tx, {
          name: request.body.name,
          tokenHash: hashOf(token),
          enrolledBy: act.by.id,
          enrolledAt: act.now,
        })
        act.note('enrol tablet', 'device', made.id, { after: { name: made.name } })
        giveDevice(request, reply, token)
        return { id: made.id, name: made.name, enrolledAt: made.enrolledAt.toISOString(), enrolledBy: act.by.name }
      }),
  )
  app.delete(
    '/devices/:id',
    { schema: { summary: 'Take a tablet out; its sessions end', params: idParams, response: { 204: z.null(), ...problemResponses } } },
    async (request, reply) => {
      await write(app, request, reply, 204, async (act) => {
        if (!(await store.endDevice(act.tx, request.params.id, act.now))) throw notFound('This tablet')
        act.note('take tablet out', 'device', request.params.id, {})
        return null
      })
      return reply.send(null)
    },
  )
}

/** The whole service without a port: plugins first, then an explicit list of features. */
import { randomUUID } from 'node:crypto'
import { statfs } from 'node:fs/promises'
import Fastify, { type FastifyInstance, LogController } from 'fastify'
import { validatorCompiler, type ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { LIMITS } from '#contract/primitives.ts'
import { auditRoutes } from './features/audit/routes.ts'
import { bookRoutes } from './features/book/routes.ts'
import { certificateRoutes } from './features/certificates/routes.ts'
import { callRoutes } from './features/comebacks/call-routes.ts'
import { comebackRoutes } from './features/comebacks/routes.ts'
import { crankRoutes } from './features/cranks/routes.ts'
import { customerRoutes } from './features/customers/routes.ts'
import { draftRoutes } from './features/drafts/routes.ts'
import { engineRoutes } from './features/engines/routes.ts'
import { eventRoutes } from './features/events/routes.ts'
import { findRoutes } from './features/find/routes.ts'
import { gaugeStudyRoutes } from './features/gauge-studies/routes.ts'
import { hourRoutes } from './features/hours/routes.ts'
import { instrumentCheckRoutes } from './features/instrument-checks/routes.ts'
import { instrumentRoutes } from './features/instruments/routes.ts'
import { jobPageRoutes } from './features/job-page/routes.ts'
import { benchSheetRoutes } from './features/jobs/bench-sheet-routes.ts'
import { jobPaperRoutes } from './features/jobs/paper-routes.ts'
import { jobRoutes } from './features/jobs/routes.ts'
import { kitRoutes } from './features/kits/routes.ts'
import { learningRoutes } from './features/learning/routes.ts'
import { liveRoutes } from './features/live/routes.ts'
import { measurementRoutes } from './features/measurements/routes.ts'
import { moneyRoutes } from './features/money/routes.ts'
import { officeRoutes } from './features/office/routes.ts'
import { peopleRoutes } from './features/people/routes.ts'
import { photoRoutes } from './features/photos/routes.ts'
import { practiceRoutes } from './features/practice/routes.ts'
import { pressingRoutes } from './features/pressings/routes.ts'
import { proofRoutes } from './features/proofs/routes.ts'
import { publicRoutes } from './features/public/routes.ts'
import { openSessionRoutes } from './features/sessions/open-routes.ts'
import { sessionRoutes } from './features/sessions/routes.ts'
import { settingsRoutes } from './features/settings/routes.ts'
import { stepRoutes } from './features/steps/routes.ts'
import { sumsRoutes } from './features/sums/routes.ts'
import { truingRoutes } from './features/truing/routes.ts'
import { waitRoutes } from './features/waits/routes.ts'
import { wayInRoutes } from './features/way-in/routes.ts'
import { checkedAnswers, pickedAnswers } from './plugins/answers.ts'
import { installAuth } from './plugins/auth.ts'
import { offerAuthority } from './plugins/authority.ts'
import { installBookVersion } from './plugins/book-version.ts'
import { type Db, migrationsStand } from './plugins/database.ts'
import { docsRoutes, installDocs } from './plugins/docs.ts'
import { asProblem, installErrors, Problem, sendProblem } from './plugins/errors.ts'
import { installEtags } from './plugins/etag.ts'
import { installLive } from './plugins/live.ts'
import { installScreens } from './plugins/screens.ts'
import { installSecurity } from './plugins/security.ts'
import type { Tls } from './plugins/tls.ts'

declare module 'fastify' {
  interface FastifyInstance {
    db: Db
    clock: () => Date
    /** Folder of photos and papers. */
    files: string
    /** Address that links and QR codes carry; undefined: the address of the request. */
    publicUrl: string | undefined
  }
}

export interface AppOptions {
  db: Db
  clock: () => Date
  files: string
  publicUrl?: string | undefined
  trustProxy?: string[] | undefined
  tls?: Tls | undefined
  /** Folder of the shop's own authority, whose certificate tablets may fetch. */
  authority?: string | undefined
  webFolder?: string | undefined
  logLevel?: string
  /** Whether every answer is checked against its schema before it leaves; the tests do. */
  checkAnswers?: boolean
}

/** Time-outs in milliseconds; the handler's is paired with the database's statement time-out. */
export const TIMES = { request: 15_000, connection: 20_000, handler: 30_000, keepAlive: 72_000 } as const

export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const app = Fastify({
    logger: { level: options.logLevel ?? 'silent', redact: ['req.headers.cookie', 'req.headers.authorization'] },
    logController: new LogController({ disableRequestLogging: true }),
    frameworkErrors: (error, _request, reply) => sendProblem(reply, asProblem(error)),
    genReqId: () => randomUUID(),
    bodyLimit: LIMITS.bodyBytes,
    requestTimeout: TIMES.request,
    connectionTimeout: TIMES.connection,
    handlerTimeout: TIMES.handler,
    keepAliveTimeout: TIMES.keepAlive,
    routerOptions: { maxParamLength: 200 },
    ...(options.trustProxy === undefined ? {} : { trustProxy: options.trustProxy }),
    ...(options.tls === undefined ? {} : { https: options.tls }),
  }).withTypeProvider<ZodTypeProvider>() as unknown as FastifyInstance
  app.decorate('db', options.db)
  app.decorate('clock', options.clock)
  app.decorate('files', options.files)
  app.decorate('publicUrl', options.publicUrl)
  app.setValidatorCompiler(validatorCompiler)
  app.setSerializerCompiler(options.checkAnswers ? checkedAnswers : pickedAnswers)
  app.removeContentTypeParser('text/plain')

  installErrors(app)
  installEtags(app)
  // Before anything that may refuse.
  installBookVersion(app, options.webFolder)
  await installSecurity(app)
  await installAuth(app)
  await installDocs(app)
  installLive(app)
  await app.register(
    async (api) => {
      await api.register(healthRoutes)
      await api.register(docsRoutes)
      await api.register(sessionRoutes)
      await api.register(openSessionRoutes)
      await api.register(auditRoutes)
      await api.register(liveRoutes)
      await api.register(wayInRoutes)
      await api.register(peopleRoutes)
      await api.register(learningRoutes)
      await api.register(practiceRoutes)
      await api.register(certificateRoutes)
      await api.register(publicRoutes)
      await api.register(settingsRoutes)
      await api.register(proofRoutes)
      await api.register(sumsRoutes)
      await api.register(jobPaperRoutes)
      await api.register(photoRoutes)
      await api.register(findRoutes)
      await api.register(moneyRoutes)
      await api.register(bookRoutes)
      await api.register(officeRoutes)
      await api.register(waitRoutes)
      await api.register(eventRoutes)
      await api.register(draftRoutes)
      await api.register(jobRoutes)
      await api.register(benchSheetRoutes)
      await api.register(hourRoutes)
      await api.register(instrumentRoutes)
      await api.register(instrumentCheckRoutes)
      await api.register(gaugeStudyRoutes)
      await api.register(kitRoutes)
      await api.register(measurementRoutes)
      await api.register(pressingRoutes)
      await api.register(stepRoutes)
      await api.register(truingRoutes)
      await api.register(jobPageRoutes)
      await api.register(engineRoutes)
      await api.register(customerRoutes)
      await api.register(crankRoutes)
      await api.register(comebackRoutes)
      await api.register(callRoutes)
    },
    { prefix: '/api' },
  )
  if (options.authority !== undefined) offerAuthority(app, options.authority)
  await installScreens(app, options.webFolder)
  return app
}

const LEAST_DISK_SHARE = 0.05

async function healthRoutes(app: FastifyInstance): Promise<void> {
  const fine = z.strictObject({ ok: z.literal(true).describe('Always true; what is not well answers 503') })
  app.get('/health', { schema: { summary: 'The process answers', response: { 200: fine } } }, async () => ({ ok: true as const }))
  app.get(
    '/ready',
    { schema: { summary: 'Database, migrations and disk are well', response: { 200: fine, ...problemResponses } } },
    async () => {
      const stands = await migrationsStand(app.db)
      if (!stands) throw new Problem('overloaded', 'The book is not at the version of this build.', {}, 10)
      const disk = await statfs(app.files)
      if (disk.bavail / disk.blocks < LEAST_DISK_SHARE)
        throw new Problem('overloaded', 'Less than a twentieth of the disk is free.', {}, 60)
      return { ok: true as const }
    },
  )
}

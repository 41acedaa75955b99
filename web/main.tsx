import '#web/styles/fonts.css'
import '#web/styles/tokens.css'
import '#web/styles/base.css'
import '#web/styles/button.css'
import '#web/styles/bar.css'
import '#web/styles/field.css'
import '#web/styles/table.css'
import '#web/styles/notice.css'
import '#web/styles/job-shaft.css'
import '#web/styles/chart.css'
import '#web/styles/keypad.css'
import '#web/styles/door.css'
import '#web/styles/print.css'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { App } from '#web/app.tsx'
import { dressPage } from '#web/lib/mode.ts'
import { catchInstallOffer } from '#web/lib/outbox/installed.ts'
import { keepReads, putBackReads } from '#web/lib/outbox/kept-reads.ts'
import { startWorker } from '#web/lib/outbox/new-version.ts'
import { makeQueryClient } from '#web/lib/query-client.ts'

dressPage(document.documentElement)

const root = document.getElementById('root')
if (root === null) throw new Error('the page has no root')
catchInstallOffer()
// The tablet's storage may hang or refuse; the page then opens from the network as it always did.
const client = makeQueryClient()
const patience = new Promise((resolve) => setTimeout(resolve, 2_000))
await Promise.race([putBackReads(client, Date.now()).catch(() => undefined), patience])
keepReads(client)
createRoot(root).render(
  <StrictMode>
    <App client={client} />
  </StrictMode>,
)
// The worker needs the development server's files to stand still, so only the built screens have one.
if (import.meta.env.PROD) void startWorker().catch(() => undefined)

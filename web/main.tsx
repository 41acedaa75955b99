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

dressPage(document.documentElement)

const root = document.getElementById('root')
if (root === null) throw new Error('the page has no root')
createRoot(root).render(
  <StrictMode>
    <App />
  </StrictMode>,
)

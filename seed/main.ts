import { main } from '#server/main.ts'
import { seedDemo } from './demo.ts'

await main('demo', seedDemo)

/** Starts the service and the twin on the same book, each in a process of its own. */
import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import path from 'node:path'
import type { Roles } from '#prisma/migrate.ts'

export const SIDES = ['service', 'twin'] as const
export type Side = (typeof SIDES)[number]

export interface Sides {
  address: Readonly<Record<Side, string>>
  /** Milliseconds that the process of a side has worked so far. */
  workedMs(side: Side): Promise<number>
  close(): Promise<void>
}

export async function startSides(url: string, roles: Roles, files: string): Promise<Sides> {
  const service = await start('service', url, roles, files)
  const twin = await start('twin', url, roles, files)
  return {
    address: { service: service.address, twin: twin.address },
    async workedMs(side) {
      const { child } = side === 'service' ? service : twin
      const told = once(child, 'message')
      child.send('how long')
      return (await told)[0] as number
    },
    async close() {
      for (const { child } of [service, twin]) {
        const gone = once(child, 'exit')
        child.kill()
        await gone
      }
    },
  }
}

async function start(side: Side, url: string, roles: Roles, files: string): Promise<{ child: ChildProcess; address: string }> {
  const file = path.join(import.meta.dirname, 'serve.ts')
  const flags = process.env.PROFILE === side ? ['--cpu-prof', '--cpu-prof-dir=tests/.output'] : []
  const child = spawn(process.execPath, [...flags, '--import', 'tsx', file, side, url, JSON.stringify(roles), files], {
    stdio: ['ignore', 'pipe', 'inherit', 'ipc'],
  })
  const address = await new Promise<string>((resolve, reject) => {
    child.stdout?.once('data', (line: Buffer) => {
      resolve(line.toString().trim())
      // What it logs after that is a fault.
      child.stdout?.pipe(process.stderr)
    })
    child.once('exit', (code) => reject(new Error(`the ${side} ended with ${code} before it listened`)))
  })
  return { child, address }
}

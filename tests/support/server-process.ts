/** The service as a process of its own, as a shop starts it. */
import { type ChildProcess, spawn } from 'node:child_process'
import path from 'node:path'

const root = path.resolve(import.meta.dirname, '../..')

export interface ServerProcess {
  address: string
  /** Everything it printed. */
  said: () => string
  running: () => boolean
  /** Stops it and answers its exit code; null when the signal ended it. */
  stop(signal?: NodeJS.Signals): Promise<number | null>
}

/** Starts a book and waits until it is open. */
export function startServer(env: Record<string, string>): Promise<ServerProcess> {
  const child: ChildProcess = spawn(process.execPath, ['--import', 'tsx', 'server/main.ts'], {
    cwd: root,
    env: { ...process.env, PORT: '0', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let said = ''
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve))
  return new Promise((resolve, reject) => {
    const hear = (chunk: Buffer) => {
      said += chunk.toString()
      const address = /open at (http\S+)/.exec(said)?.[1]
      if (address === undefined) return
      resolve({
        address,
        said: () => said,
        running: () => child.exitCode === null && child.signalCode === null,
        stop: (signal = 'SIGTERM') => {
          child.kill(signal)
          return ended
        },
      })
    }
    child.stdout?.on('data', hear)
    child.stderr?.on('data', hear)
    void ended.then((code) => reject(new Error(`ended with ${code}: ${said}`)))
  })
}

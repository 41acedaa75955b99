/** A file that is there whole or not at all: written under another name, flushed, and only then given its own. */
import { randomUUID } from 'node:crypto'
import { open, rename, rm } from 'node:fs/promises'
import path from 'node:path'

export interface Written {
  write(bytes: Uint8Array): Promise<void>
}

/** Half-written files end so; one that is older than a day was left by a process that died. */
export const HALF = '.part'

/** `through` wraps what is written to; a test puts a full disk there. */
export async function writeWhole<Answer>(
  place: string,
  work: (file: Written) => Promise<Answer>,
  through: (file: Written) => Written = (file) => file,
): Promise<Answer> {
  const half = `${place}.${randomUUID().slice(0, 8)}${HALF}`
  try {
    const file = await open(half, 'wx', 0o600)
    let answer: Answer
    try {
      answer = await work(
        through({
          write: async (bytes) => {
            await file.writeFile(bytes)
          },
        }),
      )
      await file.sync()
    } finally {
      await file.close()
    }
    await rename(half, place)
    await syncFolder(path.dirname(place))
    return answer
  } catch (error) {
    await rm(half, { force: true })
    throw error
  }
}

async function syncFolder(folder: string): Promise<void> {
  // Windows flushes the entry of a folder with its file and lets nobody open one.
  if (process.platform === 'win32') return
  const above = await open(folder, 'r')
  await above.sync().finally(() => above.close())
}

export function isDiskFull(error: unknown): boolean {
  const code = (error as NodeJS.ErrnoException).code
  return code === 'ENOSPC' || code === 'EDQUOT' || code === '53100'
}

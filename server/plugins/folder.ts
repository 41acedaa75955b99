/** One server a folder: a second start on the same book would take its database from under the first. */
import { createHash } from 'node:crypto'
import { rmSync } from 'node:fs'
import { connect, createServer } from 'node:net'
import { platform, tmpdir } from 'node:os'
import path from 'node:path'

class FolderTrouble extends Error {
  override name = 'FolderTrouble'
}

/**
 * Claims the folder for this process by listening at a place named after it: the claim dies with the process, however it
 * dies, which a file with a process number would not. Answers what gives it back.
 */
export async function claimFolder(folder: string): Promise<() => void> {
  const name = `throwbook-${createHash('sha256').update(path.resolve(folder)).digest('hex').slice(0, 16)}`
  const place = platform() === 'win32' ? `\\\\.\\pipe\\${name}` : path.join(tmpdir(), `${name}.sock`)
  if (await answers(place))
    throw new FolderTrouble(`The book in ${folder} is open already in another process. Stop that one, or set DATA_DIR to another folder.`)
  if (platform() !== 'win32') rmSync(place, { force: true })
  const server = createServer((socket) => socket.end())
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(place, resolve)
  })
  server.unref()
  return () => server.close()
}

function answers(place: string): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(place)
    socket.once('connect', () => {
      socket.destroy()
      resolve(true)
    })
    socket.once('error', () => resolve(false))
  })
}

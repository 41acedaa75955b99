/** One server a folder: a second start on the same book would take its database from under the first. */
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'

class FolderTrouble extends Error {
  override name = 'FolderTrouble'
}

/** Claims the folder for this process; answers what gives it back. */
export function claimFolder(folder: string): () => void {
  mkdirSync(folder, { recursive: true })
  const claim = path.join(folder, 'open-by')
  if (existsSync(claim)) {
    const pid = Number(readFileSync(claim, 'utf8'))
    if (pid !== process.pid && lives(pid))
      throw new FolderTrouble(`The book in ${folder} is open already, by process ${pid}. Stop that one, or set DATA_DIR to another folder.`)
  }
  writeFileSync(claim, String(process.pid))
  return () => rmSync(claim, { force: true })
}

function lives(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch {
    return false
  }
}

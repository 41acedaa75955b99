/** A backup was not written, or not put back; the message says why and what to do, and what was left as it was. */
export class BackupTrouble extends Error {
  override name = 'BackupTrouble'
}

/** `npm run authority -- <host name> <address …>`: https for the shop's own network, and how to tell the tablets. */
import path from 'node:path'
import { readConfig } from './config.ts'
import { AuthorityTrouble, authorityFiles, issue } from './plugins/authority.ts'

const say = (line: string) => process.stdout.write(`${line}\n`)
const config = readConfig(process.env, 'book', path.dirname(import.meta.dirname))

try {
  const { authority, server, names, endsOn, fingerprint } = await issue(config.authority, process.argv.slice(2), new Date())
  const files = authorityFiles(config.authority)
  const address = `https://${names[0]?.includes(':') ? `[${names[0]}]` : names[0]}:${config.port}`
  say(
    authority === 'made' ? `The shop’s own authority is made: ${files.cert}` : `The shop’s own authority is kept as it was: ${files.cert}`,
  )
  say(
    server === 'made'
      ? `A certificate for ${names.join(', ')} is made; it holds to ${endsOn}.`
      : `The certificate for ${names.join(', ')} still holds, to ${endsOn}.`,
  )
  say(`
Start the book with these settings:
  TLS_CERT=${files.serverCert}
  TLS_KEY=${files.serverKey}
  HOST=0.0.0.0
  PUBLIC_URL=${address}
Each start on this certificate renews it when less than 60 days are left; the tablets notice nothing.

Then tell each tablet and desk to trust the authority, once. Its certificate is the file above, and the running book hands it out at
${address}/authority.crt (the first visit warns: that is what this mends). Its SHA-256 is
  ${fingerprint}
Compare it where the device shows it.
- Android: Settings, Security, More, Encryption and credentials, Install a certificate, CA certificate; choose the file. The names of the
  menus differ a little; searching the settings for "CA certificate" finds it. The browser of the system then trusts the book.
- iPad: open the address above in Safari and allow the profile; Settings, General, VPN and device management, install it; then Settings,
  General, About, Certificate trust settings, switch it on. Without the last step it stays untrusted.
- Windows: open the file, Install certificate, Local machine, place it in "Trusted root certification authorities".
- macOS: open the file in Keychain access, open it there, Trust, "Always trust".
- Linux: copy it to /usr/local/share/ca-certificates and run update-ca-certificates; Firefox anywhere: Settings, Certificates, Authorities,
  Import.
(The menus are from memory and change with versions.)

Keep ${config.authority} to the account that runs the book, and in your backup. Whoever has authority.key can pretend to be
any site to the devices that trust it: never mail it, never copy it to a tablet.`)
} catch (error) {
  if (!(error instanceof AuthorityTrouble)) throw error
  process.stderr.write(`${error.message}\n`)
  process.exitCode = 1
}

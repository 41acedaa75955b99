import { WayIn } from '#web/features/way-in/way-in.tsx'
import { Page, SkipLink } from '#web/ui/page.tsx'

/** How a shop gets https on its own network, in words for whoever keeps the server. Anybody may read it. */
export function OwnNetworkPage() {
  return (
    <>
      <SkipLink />
      <Page
        title="The book on the shop’s own network"
        lead={
          window.isSecureContext !== false
            ? 'This browser reaches the book safely; nothing is to be done here.'
            : 'This browser reaches the book by plain http.'
        }
      >
        <WayIn />
        <p>
          Browsers keep the screen awake, keep readings while the network is away and install a page only where it came by https (or on the
          server’s own machine). There are two ways there.
        </p>
        <h2>An authority of the shop’s own</h2>
        <ol>
          <li>
            On the server: <b>npm run authority -- book.shop.lan 192.168.1.20</b>, with the name and the addresses that the tablets call.
          </li>
          <li>
            Start the book with the settings that it prints: <b>TLS_CERT</b>, <b>TLS_KEY</b>, <b>HOST</b>, <b>PUBLIC_URL</b>.
          </li>
          <li>
            On each tablet and desk, once: open <b>/authority.crt</b> at that address and let the device trust it. The command prints where,
            for Android, iPad and desks, and a number to compare.
          </li>
        </ol>
        <h2>A proxy that speaks https</h2>
        <ol>
          <li>
            Give the book a host name or a port of its own, without a path, and pass the headers <b>Host</b> and <b>X-Forwarded-Proto</b>{' '}
            on; let it not gather answers of <b>/api/live</b>.
          </li>
          <li>
            Start the book with <b>TRUST_PROXY</b> (the proxy’s address) and <b>PUBLIC_URL</b> (the https address).
          </li>
        </ol>
        <p>If a header or a setting is missing, the sign-in page says which.</p>
      </Page>
    </>
  )
}

/** Opens the book without the network: its own files from the tablet, everything under /api from the network alone. */
/// <reference lib="webworker" />
import { cleanupOutdatedCaches, createHandlerBoundToURL, precacheAndRoute } from 'workbox-precaching'
import { NavigationRoute, registerRoute } from 'workbox-routing'

declare const self: ServiceWorkerGlobalScope & { __WB_MANIFEST: { url: string; revision: string | null }[] }

precacheAndRoute(self.__WB_MANIFEST)
cleanupOutdatedCaches()
registerRoute(new NavigationRoute(createHandlerBoundToURL('/index.html'), { denylist: [/^\/api\//, /\.[a-z0-9]+$/i] }))

// A newer worker waits until somebody at the page says so: an open page keeps the files that it was made of.
self.addEventListener('message', ({ data }) => {
  if (data?.kind === 'take-over') void self.skipWaiting()
})

import type { ComponentType } from 'react'
import { createBrowserRouter, Outlet, type RouteObject } from 'react-router'
import { BrokenRoute } from '#web/pages/broken.tsx'
import { Home, SignedIn } from '#web/pages/signed-in.tsx'
import { Loading } from '#web/ui/states.tsx'

interface PageRoute {
  path: string
  /** Fetched when somebody goes there. */
  page: () => Promise<ComponentType>
}

/** Pages that anybody may open: sign-in, a customer's crank by its secret link (crank/:token), checking a certificate (check). */
const OPEN: readonly PageRoute[] = [{ path: 'sign-in', page: async () => (await import('#web/pages/sign-in.tsx')).SignInPage }]

/** Pages of the shop, all behind the sign-in: counter, bench, office and what lies beneath each. */
const SHOP: readonly PageRoute[] = []

const NOWHERE: PageRoute = { path: '*', page: async () => (await import('#web/pages/not-found.tsx')).NotFoundPage }

function routeOf({ path, page }: PageRoute): RouteObject {
  return { path, lazy: async () => ({ Component: await page() }) }
}

export const routes: RouteObject[] = [
  {
    Component: Outlet,
    ErrorBoundary: BrokenRoute,
    HydrateFallback: () => <Loading what="the page" />,
    children: [
      ...OPEN.map(routeOf),
      { Component: SignedIn, children: [{ index: true, Component: Home }, ...SHOP.map(routeOf)] },
      routeOf(NOWHERE),
    ],
  },
]

export function makeRouter() {
  return createBrowserRouter(routes)
}

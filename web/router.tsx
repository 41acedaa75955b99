import { type ComponentType, lazy, Suspense } from 'react'
import { BrowserRouter, Outlet, type RouteObject, useLocation, useRoutes } from 'react-router'
import { PageNet } from '#web/pages/broken.tsx'
import { Home, SignedIn } from '#web/pages/signed-in.tsx'
import { Loading } from '#web/ui/states.tsx'

interface PageRoute {
  path: string
  /** Fetched when somebody goes there. */
  page: () => Promise<ComponentType>
}

/** Pages that anybody may open: sign-in, a customer's crank by its secret link (crank/:token), checking a certificate (check). */
const OPEN: readonly PageRoute[] = [
  { path: 'sign-in', page: async () => (await import('#web/pages/sign-in.tsx')).SignInPage },
  { path: 'set-up', page: async () => (await import('#web/pages/set-up.tsx')).SetUpPage },
  { path: 'crank/:token', page: async () => (await import('#web/pages/your-crank.tsx')).YourCrankPage },
  { path: 'own-network', page: async () => (await import('#web/pages/own-network.tsx')).OwnNetworkPage },
  { path: 'check', page: async () => (await import('#web/pages/check-certificate.tsx')).CheckCertificatePage },
]

/** Pages of the shop, all behind the sign-in: counter, bench, office and what lies beneath each. */
const SHOP: readonly PageRoute[] = [
  { path: 'counter', page: async () => (await import('#web/pages/counter.tsx')).CounterPage },
  { path: 'counter/book-in', page: async () => (await import('#web/pages/book-in.tsx')).BookInPage },
  { path: 'jobs/:id', page: async () => (await import('#web/pages/job.tsx')).JobPage },
  { path: 'jobs/:id/tagged', page: async () => (await import('#web/pages/tagged.tsx')).TaggedPage },
  { path: 'jobs/:id/hand-over', page: async () => (await import('#web/pages/hand-over.tsx')).HandOverPage },
  { path: 'cranks/:id', page: async () => (await import('#web/pages/crank.tsx')).CrankPage },
  { path: 'counter/calls', page: async () => (await import('#web/pages/calls.tsx')).CallsPage },
  { path: 'customers', page: async () => (await import('#web/pages/customers.tsx')).CustomersPage },
  { path: 'customers/:id/merge', page: async () => (await import('#web/pages/merge-customers.tsx')).MergeCustomersPage },
  { path: 'customers/:id', page: async () => (await import('#web/pages/customer.tsx')).CustomerPage },
  { path: 'engines', page: async () => (await import('#web/pages/engines.tsx')).EnginesPage },
  { path: 'engines/new', page: async () => (await import('#web/pages/engine-new.tsx')).EngineNewPage },
  { path: 'engines/:id', page: async () => (await import('#web/pages/engine.tsx')).EnginePage },
  { path: 'office/comebacks', page: async () => (await import('#web/pages/comebacks.tsx')).ComebacksPage },
  { path: 'office/comebacks/:id', page: async () => (await import('#web/pages/comeback.tsx')).ComebackPage },
  { path: 'office/people', page: async () => (await import('#web/pages/people.tsx')).PeoplePage },
  { path: 'office/settings', page: async () => (await import('#web/pages/settings.tsx')).SettingsPage },
  { path: 'office/audit', page: async () => (await import('#web/pages/audit.tsx')).AuditPage },
  { path: 'office/tablets', page: async () => (await import('#web/pages/tablets.tsx')).TabletsPage },
  { path: 'office/backup', page: async () => (await import('#web/pages/proofs.tsx')).ProofsPage },
  { path: 'my-sign-in', page: async () => (await import('#web/pages/own-sign-in.tsx')).OwnSignInPage },
  { path: 'pin', page: async () => (await import('#web/pages/own-pin.tsx')).OwnPinPage },
  { path: 'bench', page: async () => (await import('#web/pages/bench.tsx')).BenchPage },
  { path: 'bench/instruments', page: async () => (await import('#web/pages/instruments.tsx')).InstrumentsPage },
  { path: 'bench/instruments/:id', page: async () => (await import('#web/pages/instrument.tsx')).InstrumentOnePage },
  { path: 'bench/gauge-studies', page: async () => (await import('#web/pages/gauge-studies.tsx')).GaugeStudiesPage },
  { path: 'bench/gauge-studies/:id', page: async () => (await import('#web/pages/gauge-study.tsx')).GaugeStudyPage },
  { path: 'bench/waiting', page: async () => (await import('#web/pages/bench-waiting.tsx')).BenchWaitingPage },
  { path: 'bench/tablet', page: async () => (await import('#web/pages/bench-tablet.tsx')).BenchTabletPage },
  { path: 'bench/practice', page: async () => (await import('#web/pages/practice.tsx')).PracticePage },
  { path: 'bench/practice/:id', page: async () => (await import('#web/pages/practice-crank.tsx')).PracticeCrankPage },
  { path: 'bench/:jobId', page: async () => (await import('#web/pages/bench-job.tsx')).BenchJobPage },
  { path: 'bench/:jobId/read/runout', page: async () => (await import('#web/pages/bench-received.tsx')).BenchReceivedPage },
  { path: 'bench/:jobId/read/:kind', page: async () => (await import('#web/pages/bench-read.tsx')).BenchReadPage },
  { path: 'bench/:jobId/width', page: async () => (await import('#web/pages/bench-read.tsx')).BenchReadPage },
  { path: 'bench/:jobId/part', page: async () => (await import('#web/pages/bench-part.tsx')).BenchPartPage },
  { path: 'bench/:jobId/kit', page: async () => (await import('#web/pages/bench-kit.tsx')).BenchKitPage },
  { path: 'bench/:jobId/press', page: async () => (await import('#web/pages/bench-press.tsx')).BenchPressPage },
  { path: 'bench/:jobId/weld', page: async () => (await import('#web/pages/bench-weld.tsx')).BenchWeldPage },
  { path: 'bench/:jobId/hours', page: async () => (await import('#web/pages/bench-hours.tsx')).BenchHoursPage },
  { path: 'bench/:jobId/true', page: async () => (await import('#web/pages/bench-true.tsx')).BenchTruePage },
  { path: 'bench/:jobId/check', page: async () => (await import('#web/pages/bench-check.tsx')).BenchCheckPage },
  { path: 'bench/:jobId/sign', page: async () => (await import('#web/pages/bench-sign.tsx')).BenchSignPage },
  { path: 'bench/:jobId/comeback', page: async () => (await import('#web/pages/bench-comeback.tsx')).BenchComebackPage },
  { path: 'office', page: async () => (await import('#web/pages/office.tsx')).OfficePage },
  { path: 'office/came-back', page: async () => (await import('#web/pages/office-came-back.tsx')).OfficeCameBackPage },
  { path: 'office/flow', page: async () => (await import('#web/pages/office-flow.tsx')).OfficeFlowPage },
  { path: 'office/first-check', page: async () => (await import('#web/pages/office-first-check.tsx')).OfficeFirstCheckPage },
  { path: 'office/earns', page: async () => (await import('#web/pages/office-earns.tsx')).OfficeEarnsPage },
  { path: 'office/cranks', page: async () => (await import('#web/pages/office-cranks.tsx')).OfficeCranksPage },
  { path: 'office/learning/:personId', page: async () => (await import('#web/pages/learning-line.tsx')).LearningLinePage },
  { path: 'my-line', page: async () => (await import('#web/pages/learning-line.tsx')).MyLinePage },
]

const NOWHERE: PageRoute = { path: '*', page: async () => (await import('#web/pages/not-found.tsx')).NotFoundPage }

function routeOf({ path, page }: PageRoute): RouteObject {
  return { path, Component: lazy(async () => ({ default: await page() })) }
}

/** Around every page: what is shown while it comes, and what stands in its place when it breaks, until somebody goes elsewhere. */
function Pages() {
  const { pathname } = useLocation()
  return (
    <PageNet at={pathname}>
      <Suspense fallback={<Loading what="the page" />}>
        <Outlet />
      </Suspense>
    </PageNet>
  )
}

export const routes: RouteObject[] = [
  {
    Component: Pages,
    children: [
      ...OPEN.map(routeOf),
      { Component: SignedIn, children: [{ index: true, Component: Home }, ...SHOP.map(routeOf)] },
      routeOf(NOWHERE),
    ],
  },
]

/** The plain router: the book fetches by its queries and writes by its acts, so the one with loaders and actions would be dead weight on a bench tablet. */
export function Router() {
  return (
    <BrowserRouter>
      <AllRoutes />
    </BrowserRouter>
  )
}

function AllRoutes() {
  return useRoutes(routes)
}

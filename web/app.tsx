import { type QueryClient, QueryClientProvider } from '@tanstack/react-query'
import { SignInAgain } from '#web/features/sessions/sign-in-again.tsx'
import { PageNet } from '#web/pages/broken.tsx'
import { NewVersionLine } from '#web/pages/new-version-line.tsx'
import { Router } from '#web/router.tsx'

export function App({ client }: { client: QueryClient }) {
  return (
    <PageNet>
      <QueryClientProvider client={client}>
        <NewVersionLine />
        <Router />
        <SignInAgain />
      </QueryClientProvider>
    </PageNet>
  )
}

import { type QueryClient, QueryClientProvider } from '@tanstack/react-query'
import { Component, type ReactNode, useState } from 'react'
import { RouterProvider } from 'react-router/dom'
import { SignInAgain } from '#web/features/sessions/sign-in-again.tsx'
import { Broken } from '#web/pages/broken.tsx'
import { NewVersionLine } from '#web/pages/new-version-line.tsx'
import { makeRouter } from '#web/router.tsx'

/** The last net: what breaks outside every page still leaves words and a way on. */
class Net extends Component<{ children: ReactNode }, { broke: boolean; error: unknown }> {
  override state = { broke: false, error: undefined as unknown }

  static getDerivedStateFromError(error: unknown) {
    return { broke: true, error }
  }

  override render() {
    return this.state.broke ? <Broken error={this.state.error} /> : this.props.children
  }
}

export function App({ client }: { client: QueryClient }) {
  const [router] = useState(makeRouter)
  return (
    <Net>
      <QueryClientProvider client={client}>
        <NewVersionLine />
        <RouterProvider router={router} />
        <SignInAgain />
      </QueryClientProvider>
    </Net>
  )
}

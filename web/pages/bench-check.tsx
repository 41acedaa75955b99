import { CheckScreen } from '#web/features/truing/check-screen.tsx'
import { CrankAtBench } from '#web/pages/crank-at-bench.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { GoLink } from '#web/ui/button.tsx'

export function BenchCheckPage() {
  const me = useMe()
  return (
    <CrankAtBench work="checking" name="second check">
      {({ job, sheet, instruments, settings }) => (
        <CheckScreen
          // Another hand sees another check.
          key={me.id}
          jobId={job.id}
          personId={me.id}
          sheet={sheet}
          instruments={instruments}
          shopLimitMm={settings.houseLimitMm}
          zone={settings.zone}
          isOwner={me.role === 'owner'}
          whenSettled={
            <p>
              <GoLink kind="go" to={`/bench/${job.id}/sign`}>
                To the certificate
              </GoLink>
            </p>
          }
        />
      )}
    </CrankAtBench>
  )
}

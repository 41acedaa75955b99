import { useQuery } from '@tanstack/react-query'
import { useNavigate, useParams } from 'react-router'
import { BuildEdit } from '#web/features/engines/build-edit.tsx'
import { EngineCopy, EngineEdit } from '#web/features/engines/engine-edit.tsx'
import { EngineSheet } from '#web/features/engines/engine-sheet.tsx'
import { engineQuery } from '#web/features/engines/queries.ts'
import { buildWords, CYCLE_WORDS, engineName } from '#web/features/engines/words.ts'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Buttons } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

export function EnginePage() {
  const { id = '' } = useParams()
  const navigate = useNavigate()
  const sheet = useQuery(engineQuery(id))
  const it = sheet.data
  return (
    <ShopFrame place="counter">
      <Page
        title={it === undefined ? 'Sheet' : engineName(it)}
        lead={
          it === undefined
            ? undefined
            : [
                CYCLE_WORDS[it.cycle],
                `left on ${it.surfaceLeft}`,
                `right on ${it.surfaceRight}`,
                it.copiedFrom === undefined ? undefined : `copied from ${it.copiedFrom}`,
              ]
                .filter((one) => one !== undefined)
                .join(' · ')
        }
      >
        {sheet.isPending && <Loading what="the sheet" />}
        {sheet.isError && <Failed what="The sheet" error={sheet.error} onAgain={() => void sheet.refetch()} />}
        {it !== undefined && (
          <div key={id}>
            {buildWords(it) !== undefined && <p>{buildWords(it)}</p>}
            {it.note !== undefined && <p className="lines">{it.note}</p>}
            <div className="sheet-acts">
              <Buttons>
                <Fold open="Change the head">{(shut) => <EngineEdit sheet={it} onShut={shut} />}</Fold>
                <Fold open="How it is put together">{(shut) => <BuildEdit sheet={it} onShut={shut} />}</Fold>
                <Fold open="Copy the sheet">
                  {(shut) => <EngineCopy sheet={it} onMade={(made) => void navigate(`/engines/${made}`)} onShut={shut} />}
                </Fold>
              </Buttons>
            </div>
            <EngineSheet sheet={it} />
          </div>
        )}
      </Page>
    </ShopFrame>
  )
}

import '#web/features/certificates/certificates.css'
import { type DragEvent, useEffect, useRef, useState } from 'react'
import { parseCheckCode } from '#core/check-code.ts'
import { canHash, hashFile } from '#web/features/certificates/file-hash.ts'
import { LookedUpSheet } from '#web/features/certificates/looked-up-sheet.tsx'
import { useLookUp } from '#web/features/certificates/queries.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'

export interface CheckSheetProps {
  /** From the code on the sheet; looked up at once. */
  number?: string | undefined
  code?: string | undefined
}

interface DroppedFile {
  name: string
  sha256: string
}

/** Looking a sheet up by number and check code, or by the file itself, which does not leave this browser. */
export function CheckSheet({ number: givenNumber = '', code: givenCode = '' }: CheckSheetProps) {
  const [number, setNumber] = useState(givenNumber)
  const [code, setCode] = useState(givenCode)
  const [tried, setTried] = useState(false)
  const [file, setFile] = useState<DroppedFile | undefined>(undefined)
  const [said, setSaid] = useState('')
  const look = useLookUp()
  const askedFirst = useRef(false)

  const read = parseCheckCode(code)
  const codeFault = code.trim() === '' ? 'The check code stands at the foot of the sheet.' : read.ok ? undefined : read.detail

  const byCode = () => {
    setTried(true)
    if (number.trim() === '' || codeFault !== undefined) return
    look.mutate({ number: number.trim(), code: code.trim() })
  }

  const { mutate } = look
  useEffect(() => {
    // Scanned off the sheet: both are there, so it is looked up without a press; once, though React mounts twice in development.
    if (askedFirst.current || givenNumber === '' || givenCode === '') return
    askedFirst.current = true
    mutate({ number: givenNumber, code: givenCode })
  }, [mutate, givenNumber, givenCode])

  const take = async (dropped: File) => {
    setSaid('')
    const hash = await hashFile(dropped)
    if (!hash.ok) {
      setSaid(hash.because === 'too-large' ? 'This file is far too large for one of our sheets.' : NO_SUMS)
      return
    }
    setFile({ name: dropped.name, sha256: hash.sha256 })
    // With a sheet already looked up, the file is compared with that one; else the file says which sheet it is.
    if (look.data === undefined) look.mutate({ sha256: hash.sha256 })
  }

  return (
    <>
      <Form enter="sends" onSend={byCode} aria-label="Look a sheet up">
        <TextField
          label="Number of the sheet"
          name="number"
          autoComplete="off"
          inputMode="numeric"
          maxLength={20}
          value={number}
          error={tried && number.trim() === '' ? 'The number stands at the head of the sheet.' : undefined}
          onChange={(event) => setNumber(event.target.value)}
        />
        <TextField
          label="Check code"
          hint="Such as 7K4M-9QTX, at the foot of the sheet. Capitals or small letters, with or without the dash."
          name="code"
          autoComplete="off"
          autoCapitalize="characters"
          spellCheck={false}
          maxLength={20}
          value={code}
          error={tried ? codeFault : undefined}
          onChange={(event) => setCode(event.target.value)}
        />
        <Button type="submit" kind="go" busy={look.isPending}>
          Look it up
        </Button>
      </Form>
      <FileDrop said={said} onFile={(dropped) => void take(dropped)} />
      {look.error !== null && <NotFound error={look.error} byFile={look.variables !== undefined && 'sha256' in look.variables} />}
      <div aria-live="polite">
        {look.data !== undefined && <LookedUpSheet sheet={look.data} fileSha256={file?.sha256} fileName={file?.name} />}
      </div>
    </>
  )
}

const NO_SUMS =
  'This browser cannot compare a file here, because the page came without encryption (http). Look the sheet up by its number and check code, and compare the figures.'

function NotFound({ error, byFile }: { error: Error; byFile: boolean }) {
  const unknown = error instanceof Problem && error.type === 'not-found'
  return (
    <div className="problem" role="alert">
      <p>
        {unknown && byFile
          ? 'This very file was not drawn by this shop. It may have been printed or saved anew, or changed. Look the sheet up by its number and check code instead.'
          : unknown
            ? 'No sheet of this shop has this number with this check code. Look at both again; the code tells O from 0 by itself.'
            : inWords(error)}
      </p>
    </div>
  )
}

/** The file is read in this browser; only its fingerprint is asked of the shop. */
function FileDrop({ said, onFile }: { said: string; onFile(file: File): void }) {
  const [over, setOver] = useState(false)
  const pick = useRef<HTMLInputElement>(null)
  if (!canHash())
    return (
      <div className="drop">
        <p>{NO_SUMS}</p>
      </div>
    )
  const drop = (event: DragEvent) => {
    event.preventDefault()
    setOver(false)
    const dropped = event.dataTransfer.files[0]
    if (dropped !== undefined) onFile(dropped)
  }
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is one way more; the button beside it does the same by hand and key
    <div
      className="drop"
      data-over={over || undefined}
      onDragOver={(event) => {
        event.preventDefault()
        setOver(true)
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <p>Or drop the file of the sheet in here. It stays in this browser; only its fingerprint is compared.</p>
      <Button onClick={() => pick.current?.click()}>Choose the file</Button>
      <input
        ref={pick}
        type="file"
        hidden
        aria-label="File of the sheet"
        accept="application/pdf,.pdf"
        onChange={(event) => {
          const chosen = event.target.files?.[0]
          if (chosen !== undefined) onFile(chosen)
          event.target.value = ''
        }}
      />
      <p role="status">{said}</p>
    </div>
  )
}

import '#web/styles/asked-again.css'
/** A figure that looks mistyped: asked about before it is taken. Put it where the figure is keyed. */
export function AskedAgain({ says }: { says: string }) {
  return (
    <div className="asked-again" role="alert">
      <p className="asked-what">{says}</p>
      <p>Read it again, and key what it is. The same figure a second time is taken as it is.</p>
    </div>
  )
}

import { type RefObject, useLayoutEffect, useRef, useState } from 'react'

/** The room a picture has, in CSS pixels, and the size of small lettering there. */
export interface Room {
  width: number
  /** Size of the lettering on charts: --t-small of the mode. */
  letter: number
}

/**
 * Measures the column a chart stands in, so that it can be laid out at its true size: scaled pictures have lettering
 * that nobody can read on a narrow screen. Where nothing is laid out (tests, print preview) it keeps `usual`.
 */
export function useRoom<Box extends HTMLElement>(usual: Room): [RefObject<Box | null>, Room] {
  const box = useRef<Box>(null)
  const [room, setRoom] = useState(usual)
  useLayoutEffect(() => {
    const element = box.current
    if (element === null) return
    const measure = () => {
      const width = Math.floor(element.clientWidth)
      const letter = Number.parseFloat(getComputedStyle(element).fontSize)
      if (width > 0) setRoom((now) => ({ width, letter: Number.isFinite(letter) && letter > 0 ? letter : now.letter }))
    }
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    // The lettering changes with the mode, which the width need not.
    const dress = new MutationObserver(measure)
    dress.observe(document.documentElement, { attributes: true, attributeFilter: ['data-mode'] })
    return () => {
      observer.disconnect()
      dress.disconnect()
    }
  }, [])
  return [box, room]
}

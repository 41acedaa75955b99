import { useEffect, useState } from 'react'

/** A value once it has rested for so long: what is typed, before it is asked of the book. */
export function useSettled<Value>(value: Value, restMs: number): Value {
  const [settled, setSettled] = useState(value)
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), restMs)
    return () => clearTimeout(timer)
  }, [value, restMs])
  return settled
}

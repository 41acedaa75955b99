import { useSearchParams } from 'react-router'

/** One of a few words in the address, the first unless it says so: a bench page needs no more, and no schema for it. */
export function useChoice<Choice extends string>(name: string, choices: readonly [Choice, ...Choice[]]): [Choice, (next: Choice) => void] {
  const [search, setSearch] = useSearchParams()
  const given = search.get(name)
  const change = (next: Choice) =>
    setSearch(
      (now) => {
        const after = new URLSearchParams(now)
        if (next === choices[0]) after.delete(name)
        else after.set(name, next)
        return after
      },
      { replace: true },
    )
  return [choices.find((choice) => choice === given) ?? choices[0], change]
}

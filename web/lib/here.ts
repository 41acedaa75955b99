import { createContext, useContext } from 'react'
import type { Role } from '#contract/people.ts'
import type { LengthUnit } from '#core/units.ts'

/** Who looks at a page, and the clock, money and unit of the shop. Every figure and day on a screen is said by these. */
export interface Here {
  personId: string
  role: Role
  shopName: string
  zone: string
  currency: string
  unit: LengthUnit
  /** Fee for looking a crank over, in minor units. */
  lookingOverFee: number
  storageRule: string
  /** Texts that the counter tells, with their placeholders. */
  texts: { ready: string; yes: string; late: string }
  /** Days from the message that it is ready until storage may be charged. */
  storageDays: number
}

const HereContext = createContext<Here | undefined>(undefined)

export const HereProvider = HereContext

/** For whatever stands beneath a page that knows the shop. */
export function useHere(): Here {
  const here = useContext(HereContext)
  if (here === undefined) throw new Error('useHere needs a page that knows the shop')
  return here
}

/** Names, phones, addresses and prices are the counter's and the owner's. */
export function seesCustomers(role: Role): boolean {
  return role !== 'bench'
}

import { createContext, useContext } from 'react'
import type { Joint } from '#core/crank-build.ts'

const JointContext = createContext<Joint | undefined>(undefined)

export const JointProvider = JointContext

/** The joint that is worked on here, of a crank with several throws; undefined for the whole crank, and where it has one throw. */
export function useJointHere(): Joint | undefined {
  return useContext(JointContext)
}

/** What is sent to the book, with the joint that it is of. */
export function atJoint<Body extends object>(body: Body, joint: Joint | undefined): Body {
  return joint === undefined ? body : { ...body, joint }
}

/** An address with the joint that it opens at. */
export function atAddress(address: string, joint: Joint | undefined): string {
  return joint === undefined ? address : `${address}?joint=${joint}`
}

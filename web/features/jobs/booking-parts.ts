import type { ReactNode } from 'react'
import type { UseFormReturn } from 'react-hook-form'
import type { BookingForm } from '#web/features/jobs/booking-form.ts'

export interface CustomerSlot {
  id: string
  name: string
  error: string | undefined
  onName(typed: string): void
  onKnown(id: string, name: string): void
  onForget(): void
}

export interface EngineSlot {
  id: string
  typed: string
  error: string | undefined
  onTyped(typed: string): void
  onPick(id: string, name: string): void
}

/** What other features put into the booking: who it is, and which engine. */
export interface BookingSlots {
  customer(slot: CustomerSlot): ReactNode
  engine(slot: EngineSlot): ReactNode
}

/** Every part of the booking writes into the one form. */
export interface BookingPartProps {
  form: UseFormReturn<BookingForm>
  values: BookingForm
}

/** How a part writes a field that no plain input holds. */
export const CHANGED = { shouldDirty: true } as const

/** Goes on to a field once what was chosen has changed the page: the field that was left may be there no more. */
export function focusField(name: string): void {
  requestAnimationFrame(() => {
    const field = document.getElementsByName(name)[0]
    field?.focus()
  })
}

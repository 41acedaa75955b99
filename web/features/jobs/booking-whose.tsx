import { HEAR_BY } from '#contract/customers.ts'
import { type BookingPartProps, type BookingSlots, CHANGED, focusField } from '#web/features/jobs/booking-parts.ts'
import { AreaField, TextField } from '#web/ui/field.tsx'
import { Pick } from '#web/ui/pick.tsx'

/** Whose crank it is. For somebody known nothing more is asked; for somebody new the name and one way to reach them. */
export function BookingWhose({ form, values, customer }: BookingPartProps & { customer: BookingSlots['customer'] }) {
  const { errors } = form.formState
  const isNew = values.customer.id === ''
  return (
    <>
      {customer({
        id: values.customer.id,
        name: values.customer.name,
        error: errors.customer?.name?.message,
        onName: (typed) => form.setValue('customer.name', typed, CHANGED),
        onKnown: (id, name) => {
          form.setValue('customer.id', id, CHANGED)
          form.setValue('customer.name', name, CHANGED)
          form.clearErrors('customer')
          focusField('crank.engineId')
        },
        onForget: () => {
          form.setValue('customer.id', '', CHANGED)
          form.setValue('customer.name', '', CHANGED)
          if (values.crank.id !== '') form.setValue('crank.id', '', CHANGED)
          focusField('customer.name')
        },
      })}
      {isNew && (
        <>
          <div className="fields">
            <TextField
              label="Phone"
              type="tel"
              autoComplete="off"
              error={errors.customer?.phone?.message}
              {...form.register('customer.phone')}
            />
            <TextField
              label="Mail"
              type="email"
              autoComplete="off"
              autoCapitalize="none"
              error={errors.customer?.mail?.message}
              {...form.register('customer.mail')}
            />
          </div>
          <Pick
            label="They want to hear by"
            options={HEAR_BY.map((value) => ({ value, label: value }))}
            value={values.customer.hearBy}
            onChange={(value) => form.setValue('customer.hearBy', value, CHANGED)}
          />
          {(values.goesBy === 'carrier' || values.customer.hearBy === 'post' || values.customer.address !== '') && (
            <AreaField label="Address" rows={2} error={errors.customer?.address?.message} {...form.register('customer.address')} />
          )}
        </>
      )}
    </>
  )
}

import type { UseFormReturn } from 'react-hook-form'
import { HEAR_BY } from '#contract/customers.ts'
import { CUSTOMER_LABELS, type CustomerForm } from '#web/features/customers/customer-form.ts'
import { HEAR_BY_WORDS } from '#web/features/customers/words.ts'
import { AreaField, TextField } from '#web/ui/field.tsx'
import { Pick } from '#web/ui/pick.tsx'

/** Name and ways to reach them; the same fields for somebody new and for a change. */
export function CustomerFields({ form }: { form: UseFormReturn<CustomerForm> }) {
  const { errors } = form.formState
  const label = (name: string) => CUSTOMER_LABELS[name] ?? name
  const hearBy = form.watch('hearBy')
  return (
    <>
      <TextField label={label('name')} maxLength={200} error={errors.name?.message} {...form.register('name')} />
      <div className="fields">
        <TextField label={label('phone')} type="tel" maxLength={60} error={errors.phone?.message} {...form.register('phone')} />
        <TextField label={label('mail')} type="email" maxLength={200} error={errors.mail?.message} {...form.register('mail')} />
      </div>
      <AreaField label={label('address')} maxLength={400} error={errors.address?.message} {...form.register('address')} />
      <Pick
        label={label('hearBy')}
        options={HEAR_BY.map((value) => ({ value, label: HEAR_BY_WORDS[value] }))}
        value={HEAR_BY.find((one) => one === hearBy)}
        onChange={(value) => form.setValue('hearBy', value, { shouldDirty: true })}
      />
      <AreaField label={label('note')} maxLength={1000} rows={2} error={errors.note?.message} {...form.register('note')} />
    </>
  )
}

import type { ReactNode } from 'react'

/// One line; none where there is nothing to say.
export function Fact({ name, open = false, children }: { readonly name: string; readonly open?: boolean; readonly children: ReactNode }) {
  return children === '' || children === null || children === false ? null : (
    <div>
      <dt className={open ? 'open-mark' : undefined}>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

import type { Reference } from '../../app/project/reference'

type Setting = NonNullable<Reference['setting']>[number]

/// Where a study was made when it was not on living fighters in a bout, in words.
export const SETTINGS: Readonly<Record<Setting, string>> = {
  dummy: 'on a dummy',
  helmet: 'with helmets',
  laboratory: 'in a laboratory',
  'other-sport': 'in another sport',
  model: 'by a model',
}

export const settingWords = (setting: readonly Setting[]): string => setting.map((each) => SETTINGS[each]).join(', ')

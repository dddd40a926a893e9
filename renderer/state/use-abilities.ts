import { useEffect, useState } from 'react'
import type { CallOutput } from '../../app/contract/calls'
import { engine } from './engine'

/// What the shell about the window can do.
export type Abilities = Pick<CallOutput<'engine.about'>, 'fileDialog' | 'showInFolder'>

/// Nothing, until the shell has answered, and in a browser.
export function useAbilities(): Abilities {
  const [abilities, setAbilities] = useState<Abilities>({ fileDialog: false, showInFolder: false })
  useEffect(() => {
    void engine.call('engine.about', {}).then((answer) => answer.ok && setAbilities(answer.value))
  }, [])
  return abilities
}

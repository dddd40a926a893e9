import { useState, type ReactNode } from 'react'
import type { ScriptSplit, SplitPiece } from '../../app/align/split-script'
import type { Take } from '../../app/contract/take-calls'
import type { Paragraph } from '../../app/project/picture'
import type { Readings } from '../../app/script/spoken-form'
import { engine } from '../state/engine'
import { useProject } from '../state/use-project'
import { SplitSheet } from './split-sheet'
import { chooseTakes } from './take-edits'

/// Takes a recording of the whole script apart: found, shown, confirmed, cut, and put into the film by one edit.
export function useSplit(
  paragraphs: readonly Paragraph[],
  readings: Readings,
  tell: (words: string | null) => void,
): { readonly sheet: ReactNode; readonly takeApart: (take: Take) => Promise<void> } {
  const project = useProject()
  const [found, setFound] = useState<{ readonly take: Take; readonly split: ScriptSplit } | null>(null)
  const takeApart = async (take: Take): Promise<void> => {
    tell('finding the paragraphs …')
    const answer = await engine.call('takes.split', { take: take.id })
    tell(answer.ok ? null : answer.error.message)
    if (answer.ok) setFound({ take, split: answer.value })
  }
  const put = async (take: Take, pieces: readonly SplitPiece[]): Promise<void> => {
    setFound(null)
    tell('keeping the takes …')
    const cut = await engine.call('takes.cut', {
      take: take.id,
      pieces: pieces.map(({ paragraph, from, to }) => ({ paragraph, from, to })),
    })
    if (!cut.ok) return tell(cut.error.message)
    const chosen = pieces.flatMap(({ paragraph: id, found: words }, i) => {
      const [paragraph, file] = [paragraphs.find((each) => each.id === id), cut.value.takes[i]?.file]
      return paragraph && file ? [{ paragraph, file, found: words }] : []
    })
    const done = await project.edit(chooseTakes(chosen, readings))
    tell(done ? `${chosen.length} ${chosen.length === 1 ? 'take is' : 'takes are'} in the film` : null)
  }
  return {
    sheet: found && (
      <SplitSheet
        take={found.take}
        split={found.split}
        paragraphs={paragraphs}
        readings={readings}
        onUse={(pieces) => void put(found.take, pieces)}
        onClose={() => setFound(null)}
      />
    ),
    takeApart,
  }
}

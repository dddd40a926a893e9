import type { TextRun } from '../../app/release/text-run'

/// Runs of text, each the way it stands.
export function TextRuns({ runs }: { readonly runs: readonly TextRun[] }) {
  return runs.map(({ text, as }, i) => {
    const style = {
      ...(as.includes('italic') ? { fontStyle: 'italic' } : {}),
      ...(as.includes('bold') ? { fontWeight: 700 } : {}),
      ...(as.includes('small-caps') ? { fontVariant: 'small-caps' } : {}),
    }
    const Element = as.includes('superscript') ? 'sup' : as.includes('subscript') ? 'sub' : 'span'
    return (
      <Element key={i} style={style}>
        {text}
      </Element>
    )
  })
}

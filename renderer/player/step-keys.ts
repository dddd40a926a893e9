/// The keys by which a picture is stepped, wherever one stands under the hands.

export type StepCommand =
  | { readonly do: 'step'; readonly by: number }
  | { readonly do: 'end'; readonly to: 'first' | 'last' }
  | { readonly do: 'event'; readonly way: -1 | 1 }

/// Null: another key.
export function stepCommandOf({ key, shiftKey }: { readonly key: string; readonly shiftKey: boolean }): StepCommand | null {
  switch (key) {
    case 'ArrowLeft':
      return { do: 'step', by: shiftKey ? -10 : -1 }
    case 'ArrowRight':
      return { do: 'step', by: shiftKey ? 10 : 1 }
    case ',':
      return { do: 'step', by: -1 }
    case '.':
      return { do: 'step', by: 1 }
    case 'PageUp':
      return { do: 'step', by: -10 }
    case 'PageDown':
      return { do: 'step', by: 10 }
    case 'Home':
      return { do: 'end', to: 'first' }
    case 'End':
      return { do: 'end', to: 'last' }
    case '[':
      return { do: 'event', way: -1 }
    case ']':
      return { do: 'event', way: 1 }
    default:
      return null
  }
}

import { expect, it } from 'vitest'
import { commandOf, FAR_NUDGE, NUDGE, PAN } from '../../../../renderer/bench/bench-keys'

const press = (key: string, placing: boolean, shiftKey = false) => commandOf({ key, shiftKey }, placing ? 'places' : 'free')

it('should nudge by a quarter pixel while points are placed, and step frames otherwise', () => {
  expect(press('ArrowLeft', true)).toEqual({ do: 'nudge', by: [-NUDGE, 0] })
  expect(press('ArrowDown', true, true)).toEqual({ do: 'nudge', by: [0, FAR_NUDGE] })
  expect(press('ArrowLeft', false)).toEqual({ do: 'step', by: -1 })
  expect(press('ArrowRight', false, true)).toEqual({ do: 'step', by: 10 })
  expect(press('ArrowUp', false)).toBeNull()
  expect(NUDGE).toBe(0.25)
})

it('should mean by space the next point while placing, and run otherwise', () => {
  expect(press(' ', true)).toEqual({ do: 'next' })
  expect(press(' ', false)).toEqual({ do: 'run', speed: 0.25 })
})

it('should hide, blur and take back only while placing', () => {
  for (const key of ['h', 'B', 'Backspace', '7']) {
    expect(press(key, false)).toBeNull()
    expect(press(key, true)).not.toBeNull()
  }
})

it('should take the point in hand by Enter, lead it by the arrows, and let it go by Enter', () => {
  expect(commandOf({ key: 'Enter', shiftKey: false }, 'free')).toEqual({ do: 'lead' })
  expect(commandOf({ key: 'ArrowUp', shiftKey: false }, 'leads')).toEqual({ do: 'nudge', by: [0, -NUDGE] })
  expect(commandOf({ key: 'Enter', shiftKey: false }, 'leads')).toEqual({ do: 'let-go' })
  expect(commandOf({ key: 'Enter', shiftKey: false }, 'places')).toEqual({ do: 'place-here' })
  expect(commandOf({ key: '.', shiftKey: false }, 'leads')).toEqual({ do: 'step', by: 1 })
})

it('should look further by Alt and an arrow, whatever the hand is about, and step this clip alone by Alt and a stop', () => {
  for (const hand of ['places', 'leads', 'free'] as const)
    expect(commandOf({ key: 'ArrowRight', shiftKey: false, altKey: true }, hand)).toEqual({ do: 'pan', by: [-PAN, 0] })
  expect(commandOf({ key: '.', shiftKey: false, altKey: true }, 'free')).toEqual({ do: 'step-own', by: 1 })
  expect(commandOf({ key: 'p', shiftKey: false, altKey: true }, 'free')).toBeNull()
})

import { expect, it } from 'vitest'
import { commandOf, FAR_NUDGE, NUDGE } from '../../../../renderer/bench/bench-keys'

const press = (key: string, placing: boolean, shiftKey = false) => commandOf({ key, shiftKey }, placing)

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

it('should place, hide and blur only while placing', () => {
  for (const key of ['Enter', 'h', 'B', 'Backspace']) {
    expect(press(key, false)).toBeNull()
    expect(press(key, true)).not.toBeNull()
  }
})

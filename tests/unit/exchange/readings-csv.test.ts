import { expect, test } from 'vitest'
import { readingsCsv } from '../../../app/exchange/readings-csv'
import { readingsOf } from '../../../app/measure/readings'
import { knee, scene, table60 } from '../measure/scene'

test('readings are written one a row, their units in the header, refusals with empty values', () => {
  const csv = readingsCsv(
    readingsOf(
      scene([
        knee,
        { id: 't', kind: 'time-between', clip: 'c1', from: 'plant', to: 'contact' },
        { id: 'no', kind: 'time-between', clip: 'c2', from: 'again', to: 'replayed', label: 'load, "then" hit' },
      ]),
      () => table60,
    ),
  )
  const [header, first, second, third, end] = csv.split('\r\n')
  expect(header).toContain('value (°),value (s),value (frames),value (m),value (m/s),value (°/s),value (other unit),other unit')
  expect(first).toMatch(/^m1,joint-angle,c1,460,136\.\d+,,,,,,,,4\.98\d*,9\.76\d*,/)
  expect(second).toMatch(/^t,time-between,c1,,,0\.3,,,,,,,/)
  expect(third).toMatch(/^no,time-between,c2,,,,,,,,,,,,,,time,refused,capture-unknown,"load, ""then"" hit: not measured/)
  expect(end).toBe('')
})

test('a label that a spreadsheet would take for a formula is written as text', () => {
  const csv = readingsCsv(
    readingsOf(
      scene([{ id: 'e', kind: 'by-eye', clip: 'c1', frame: 460, what: '=HYPERLINK("x")', value: 3, unit: '+cmd', u: 1 }]),
      () => table60,
    ),
  )
  expect(csv).toContain(`'+cmd`)
  expect(csv).toContain(`"'=HYPERLINK(""x"")`)
})

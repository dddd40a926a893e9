import { expect, it } from 'vitest'
import type { Breakdown } from '../../../app/project/breakdown'
import { moveFiles } from '../../../main/store/move-files'
import { validDocument } from '../../valid-document'

const breakdown = { ...validDocument(), sound: { roomTone: 'takes/room.wav' } } as unknown as Breakdown

it('should leave names alone where the folder is the same', () => {
  expect(moveFiles(breakdown, '/films-of-2026/films', '/films-of-2026/films/./')).toEqual({ ok: true, value: breakdown })
})

it('should name films, takes and room tone from a folder above, and back from there', () => {
  const up = moveFiles(breakdown, '/films-of-2026/films', '/films-of-2026')
  if (!up.ok) throw up.error
  expect(up.value.footage.map((f) => f.file)).toEqual(['films/bout-a.mp4', "films/films/50%: it's -i.mp4"])
  expect(up.value.sound?.roomTone).toBe('films/takes/room.wav')
  expect(up.value.script[1]).toMatchObject({ take: 'films/p1.wav' })
  expect(moveFiles(up.value, '/films-of-2026', '/films-of-2026/films')).toEqual({ ok: true, value: breakdown })
})

it('should refuse a folder that the films do not lie in, and name the place', () => {
  const aside = moveFiles(breakdown, '/films-of-2026/films', '/films-of-2026/projects')
  expect(aside.ok ? '' : aside.error.code).toBe('path-outside')
  expect(aside.ok ? '' : aside.error.message).toContain('sound.roomTone: ../films/takes/room.wav')
})

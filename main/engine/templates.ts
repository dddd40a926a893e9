import type { Breakdown, Output } from '../../app/project/breakdown'

const usual: Output = { width: 1920, height: 1080, rate: '60/1' }

const begin = (title: string, output: Output | undefined): Omit<Breakdown, 'script'> => ({
  format: 'claimframe-breakdown',
  version: 1,
  title,
  output: output ?? usual,
  footage: [],
  subjects: [],
  clips: [],
})

/// One empty paragraph.
export const blankBreakdown = (title: string, output?: Output): Breakdown => ({ ...begin(title, output), script: [{ id: 'p1', text: [] }] })

/// The stages of a breakdown, each with the questions that its paragraphs answer, as unspoken notes.
export const walkthroughBreakdown = (title: string, output?: Output): Breakdown => ({
  ...begin(title, output),
  script: stages.flatMap(({ chapter, notes }, i) => [
    { chapter },
    ...notes.map((note, j) => ({ id: `p${i + 1}.${j + 1}`, text: [{ note }] })),
  ]),
})

const stages = [
  {
    chapter: 'The finish',
    notes: ['Show the whole exchange once at full speed, before a word of explanation.', 'Who, where, when, and whose film it is.'],
  },
  {
    chapter: 'Before it',
    notes: [
      'Stance, distance, lead side. What had each of them done that set this up?',
      'What can be seen, and from which camera? Say what cannot be seen.',
    ],
  },
  { chapter: 'The load', notes: ['Which frame is the load, and what does the body do on it? Hold that frame; place one measure on it.'] },
  {
    chapter: 'From plant to contact',
    notes: ['How long from plant to contact, if the capture rate is known? In which order do hips, shoulders and hand come?'],
  },
  { chapter: 'Contact', notes: ['Hold the frame of contact. What do the angles allow one to say, and what not?'] },
  { chapter: 'What the other one did', notes: ['Guard, head, feet. Was there a moment at which it could be seen coming?'] },
  { chapter: 'What to train', notes: ['One thing to train. Mark what is an opinion as one.'] },
]

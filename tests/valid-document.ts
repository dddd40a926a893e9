/// The document of the description, completed so that everything in it is there.
export const validDocument = () => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two right hands',
  output: { width: 1920, height: 1080, rate: '60/1' },
  footage: [
    { id: 'f1', file: 'bout-a.mp4' },
    { id: 'f2', file: "films/50%: it's -i.mp4" },
  ],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '1', u: 0 }, mirrored: false, roll: { deg: 0, u: 1 } },
    { id: 'c2', footage: 'f2', from: 0, to: 100, capture: 'unknown' },
  ],
  views: [{ clip: 'c1', subject: 's1', from: 400, to: 830, lead: 'left', yaw: { deg: 0, u: 5 }, elevation: { deg: 5, u: 3 } }],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 440, latest: 441 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 460, latest: 461 },
    { id: 'e2', clip: 'c2', name: 'contact', earliest: 50, latest: 50 },
  ],
  landmarks: [{ clip: 'c1', subject: 's1', point: 'knee.left', samples: [{ frame: 460, at: [612.4, 388.0], sigma: 4, seen: 'seen' }] }],
  measures: [
    { id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 460, points: ['hip.left', 'knee.left', 'ankle.left'] },
    { id: 'm2', kind: 'time-between', clip: 'c1', from: 'e0', to: 'e1' },
  ],
  script: [
    { chapter: 'The load' },
    {
      id: 'p1',
      text: ['The lead knee is at ', { value: 'm1' }, ' at ', { cue: 'e1', word: 'contact' }, '.'],
      shots: [
        { run: 'c1', from: 430, to: 460, speed: '1/4', frame: [0, 0, 1280, 720] },
        {
          hold: 'c1',
          at: 460,
          seconds: '2',
          marks: [
            'm1',
            {
              arrow: [
                [300, 200],
                [600, 380],
              ],
              on: 'e1',
            },
          ],
        },
        {
          pair: [
            { clip: 'c1', event: 'e1' },
            { clip: 'c2', event: 'e2' },
          ],
          before: '1/2',
          after: '3/10',
          speed: '1/8',
          layout: 'beside',
        },
        { card: 'caution' },
      ],
      take: 'p1.wav',
    },
  ],
})

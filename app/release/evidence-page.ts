import { filmTimeText } from '../programme/sentence-time'
import { settingWords } from '../project/reference'
import type { SaidValue } from '../project/release'
import type { ElsewhereEntry, EvidenceEntry, ReportedEvent, ReportedStill } from './evidence-entry'
import type { EvidenceReport } from './evidence-report'
import { byHandInWords, CLASS_NAMES, classesInWords } from '../script/claims/class-words'
import { SOURCES_NOTE } from './description'
import { htmlText as t } from './plain-text'
import { runsHtml } from './text-run'

/// The evidence report as one HTML file: no other file, no script, no address is asked for. `stills` gives a still's JPEG as
/// base64 by its name; one that is not there is named in words.
export function evidencePage(report: EvidenceReport, stills: ReadonlyMap<string, string>): string {
  const { film, counts } = report
  const classes = Object.entries(counts.byClass).map(([letter, n]) => `${n} ${CLASS_NAMES[letter as keyof typeof CLASS_NAMES]}`)
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">
<title>${t(film.title)}: evidence</title>
<style>${STYLE}</style>
</head>
<body>
<main>
<header>
<p class="quiet">Evidence, version ${t(film.version)}, ${t(film.date)}</p>
<h1>${t(film.title)}</h1>
${report.question ? `<p class="lead">${t(report.question)}</p>` : ''}
<p>${counts.sentences} sentences${classes.length > 0 ? `: ${t(classes.join(', '))}` : ''}. ${counts.confirmed} confirmed by hand. ${counts.overridden === 0 ? 'Nothing was let stand against a finding.' : `${counts.overridden} let stand against a finding, with a reason.`}${openWords(counts)}</p>
<dl class="facts">
${fact('film', `${film.file ? `${t(film.file)}, ` : ''}${filmTimeText(film.seconds)}${film.sha256 ? `, SHA-256 ${code(film.sha256)}` : ''}`)}
${fact('script', `version ${report.script.version}${report.script.document ? `, document SHA-256 ${code(report.script.document)}` : ''}`)}
</dl>
</header>
<section aria-labelledby="method"><h2 id="method">How it was measured</h2>${list(report.method)}</section>
<section aria-labelledby="sentences"><h2 id="sentences">Sentence by sentence</h2>
${report.entries.map((entry) => entryHtml(entry, report, stills)).join('\n')}
</section>
${elsewhereHtml(report, stills)}
${section('sets', 'What was counted', report.sets, (set) => `<li><strong>${t(set.what)}: ${set.k} of ${set.n}</strong>${set.unusable > 0 ? `, ${set.unusable} not usable` : ''}. Looked at: ${t(set.set)} <span class="quiet">${set.cases.map((each) => `${t(each.clip)}: ${each.holds === null ? 'not usable' : each.holds ? 'seen' : 'not seen'}${each.note ? ` (${t(each.note)})` : ''}`).join('; ')}</span></li>`)}
${section('clips', 'Clips, the rejected ones too', report.clips, (clip) => `<li><strong>${t(clip.name)}</strong> ${t([clip.bout, clip.technique].filter(Boolean).join(', '))}<span class="quiet"> ${t(clip.capture)}${clip.state === 'not said' ? '' : `; ${clip.state}`}${clip.reason ? `: ${t(clip.reason)}` : ''}</span></li>`)}
${section('sources', 'Footage and rights', report.sources, (use) => `<li><strong>${t(use.file)}</strong> ${t([use.credit || use.owner, use.where, use.when].filter(Boolean).join(', '))}<span class="quiet"> ${use.used_s.toFixed(1)} s of ${use.length_s.toFixed(1)} s used, ${use.onScreen_s.toFixed(1)} s on screen, ${Math.round(100 * use.analysed)} % of it with narration or marks.${use.basis ? ` Basis for use: ${t(use.basis)}.` : ''}${use.missing.length > 0 ? ` Not said: ${t(use.missing.join(', '))}.` : ''}</span></li>`, `<p class="quiet">${t(SOURCES_NOTE)}</p>`)}
${section('references', 'References', report.references, (reference) => `<li id="reference-${t(reference.id)}">${runsHtml(reference.runs)}<span class="quiet"> ${t([reference.finding && `Found: ${reference.finding}`, reference.population && `In: ${reference.population}`, reference.limits && `Limits: ${reference.limits}`, reference.setting.length > 0 ? `Setting: ${settingWords(reference.setting)}` : ''].filter(Boolean).join(' '))}</span></li>`)}
${section('open', 'What is open', report.open, (each) => `<li>${each.words ? `<q>${t(each.words)}</q> ` : ''}${t(each.problem)}.${each.holds ? ' <strong>This holds the film back.</strong>' : ''}</li>`)}
${section('overrides', 'Let stand on purpose', report.overrides, (each) => `<li>${each.words ? `<q>${t(each.words)}</q> ` : ''}${t(each.problem)}. <strong>Reason:</strong> ${t(each.reason)} <span class="quiet">${t(each.by)}, ${t(each.when)}</span></li>`)}
${section('corrections', 'Corrections', report.corrections, (line) => `<li>${t(line)}</li>`)}
${
  report.notices.end.length === 0
    ? ''
    : `<section aria-labelledby="notices"><h2 id="notices">Please keep in mind</h2>
${report.notices.end.map(({ label, text }) => `<p>${label ? `<strong>${t(label)}.</strong> ` : ''}${t(text)}</p>`).join('\n')}
</section>`
}
</main>
</body>
</html>
`
}

const code = (sha: string): string => `<code>${t(sha.slice(0, 16))}</code>…`
const fact = (name: string, html: string): string => `<div><dt>${name}</dt><dd>${html}</dd></div>`
const list = (lines: readonly string[]): string => `<ul>${lines.map((line) => `<li>${t(line)}</li>`).join('')}</ul>`

function section<T>(id: string, heading: string, items: readonly T[], item: (each: T) => string, after = ''): string {
  return items.length === 0
    ? ''
    : `<section aria-labelledby="${id}"><h2 id="${id}">${heading}</h2><ul class="plain">${items.map(item).join('\n')}</ul>${after}</section>`
}

function openWords({ open, holding }: EvidenceReport['counts']): string {
  if (open === 0) return ''
  const are = open === 1 ? 'finding is' : 'findings are'
  const all = open === 1 ? 'it holds' : 'they hold'
  const some = `${holding} ${holding === 1 ? 'holds' : 'hold'}`
  const back = holding === 0 ? '' : `; ${holding === open ? all : some} the film back`
  return ` <strong>${open} ${are} open${back}.</strong>`
}

const STATE_NOTE: Readonly<Record<EvidenceEntry['state'], string>> = {
  confirmed: '',
  suggested: ' <span class="quiet">suggested, not confirmed</span>',
  'to-confirm': ' <span class="quiet">stated of other words, not confirmed of these</span>',
  none: '',
}

function entryHtml(entry: EvidenceEntry, report: EvidenceReport, stills: ReadonlyMap<string, string>): string {
  return `<article id="at-${Math.floor(entry.from_s)}-${t(entry.paragraph)}" aria-label="${filmTimeText(entry.from_s)}">
<p class="words"><span class="time">${filmTimeText(entry.from_s)}</span> <span>${t(entry.words)}</span></p>
${restsHtml(entry, report, stills, entry.take ? fact('take', `${t(entry.take)}${entry.takeSha256 ? `, SHA-256 ${code(entry.takeSha256)}` : ''}`) : '')}
</article>`
}

const PARTS: Readonly<Record<ElsewhereEntry['part'], string>> = {
  title: 'title',
  question: 'question',
  chapter: 'chapter',
  card: 'card',
  name: 'name',
  mark: 'label',
}

function elsewhereHtml(report: EvidenceReport, stills: ReadonlyMap<string, string>): string {
  if (report.elsewhere.length === 0) return ''
  return `<section aria-labelledby="elsewhere"><h2 id="elsewhere">In the title, chapters and pictures</h2>
${report.elsewhere
  .map(
    (entry) => `<article aria-label="${PARTS[entry.part]}">
<p class="words"><span class="time">${PARTS[entry.part]}</span> <span>${t(entry.words)}</span></p>
${restsHtml(entry, report, stills, entry.letStand.map(({ problem, reason }) => fact('let stand', `${t(problem)}. <strong>Reason:</strong> ${t(reason)}`)).join('\n'))}
</article>`,
  )
  .join('\n')}
</section>`
}

/// What is claimed, what it rests on, and the stills. `more`: further facts.
function restsHtml(
  entry: Omit<ElsewhereEntry, 'part' | 'letStand'>,
  report: EvidenceReport,
  stills: ReadonlyMap<string, string>,
  more: string,
): string {
  const references = entry.references.flatMap(({ id, at }) =>
    report.references.filter((reference) => reference.id === id).map((reference) => ({ reference, at })),
  )
  const classes = classesInWords(entry.classes) || 'no claim'
  return `<p class="class">${entry.state === 'confirmed' ? '●' : '◌'} <strong>${t(classes)}</strong>${STATE_NOTE[entry.state]}${entry.evidence.includes('opinion') ? ' <span class="quiet">marked as the analyst’s view</span>' : ''}${entry.classes.includes('F') && references.length === 0 ? ' <span class="quiet">no reference is given for it</span>' : ''}</p>
<dl class="facts">
${entry.byHand ? fact('class', t(byHandInWords(entry.byHand, entry.classes))) : ''}
${entry.values.map(valueHtml).join('\n')}
${entry.events.length > 0 ? fact('events', entry.events.map(bracket).join('; ')) : ''}
${references.length > 0 ? fact('cited', references.map(({ reference, at }) => `<a href="#reference-${t(reference.id)}">${runsHtml(reference.runs)}</a>${at ? `, ${t(at)}` : ''}`).join('; ')) : ''}
${entry.films.map(({ film, at, says }) => fact('earlier film', `${t(film)} at ${t(at)}${says ? `: ${t(says)}` : ''}`)).join('\n')}
${entry.open.map((problem) => fact('open', t(problem))).join('\n')}
${more}
</dl>
${entry.stills.length > 0 ? `<div class="stills${entry.stills.length % 4 === 0 ? ' by-four' : ''}">${entry.stills.map((still) => stillHtml(still, stills)).join('\n')}</div>` : ''}`
}

/// "placing ±11° · blur ±3°"
export function errorParts(value: SaidValue): string {
  const unit = value.unit === '°' ? '°' : value.unit === '' ? '' : ` ${value.unit}`
  return [...value.parts]
    .sort((a, b) => b.U - a.U)
    .map(({ name, U }) => `${name} ±${U >= 10 ? Math.round(U) : Number(U.toPrecision(2))}${unit}`)
    .join(' · ')
}

function valueHtml(value: SaidValue): string {
  const parts = value.verdict === 'refused' ? '' : errorParts(value)
  const facts = [
    value.what,
    ...(value.verdict === 'good' ? [] : [value.verdict === 'warned' ? 'with care' : value.verdict === 'range' ? 'range only' : 'refused']),
    ...value.reasons,
  ]
    .filter(Boolean)
    .join('; ')
  return `${fact('value', `<strong>${t(value.value)}</strong> ${t(facts)}`)}${parts ? `\n${fact('error', `${t(parts)} (95 %)`)}` : ''}`
}

const bracket = (event: ReportedEvent): string =>
  `${t(event.name)}: ${event.earliest === event.latest ? `frame ${event.earliest}` : `frames ${event.earliest} to ${event.latest}`} of ${t(event.clipName)}`

function stillHtml(still: ReportedStill, stills: ReadonlyMap<string, string>): string {
  const data = stills.get(still.name)
  const place = `frame ${still.frame} of ${still.clipName}${still.at_s === null ? '' : `, ${still.at_s.toFixed(4)} s`}`
  return `<figure>${data ? `<img src="data:image/jpeg;base64,${data}" alt="${t(place)}">` : '<p class="quiet">no still was kept</p>'}<figcaption>${t(place)}<br><span class="quiet">${t([still.footage, still.source].filter(Boolean).join('; '))}</span></figcaption></figure>`
}

const STYLE = `
:root{color-scheme:light}
*{box-sizing:border-box}
body{margin:0;background:#faf9f5;color:#1d1f21;font:15px/1.5 "Atkinson Hyperlegible",Verdana,sans-serif;font-variant-numeric:tabular-nums;overflow-wrap:anywhere}
main{max-width:980px;margin:0 auto;padding:40px 32px 80px}
h1{font-size:30px;line-height:1.2;margin:4px 0 12px}
h2{font-size:19px;margin:40px 0 12px;break-after:avoid}
p{margin:0 0 10px}
.lead{font:20px/1.5 "Source Serif 4",Georgia,serif}
.quiet{color:#595c60}
code{font:13px/1.4 ui-monospace,monospace}
ul{margin:0;padding-left:20px}
ul.plain{list-style:none;padding:0}
ul.plain>li{padding:8px 0;border-top:1px solid #e2dfd6;break-inside:avoid}
article{border-top:1px solid #e2dfd6;padding:16px 0}
.words{display:grid;grid-template-columns:64px 1fr;font:18px/1.55 "Source Serif 4",Georgia,serif;margin:0 0 6px;orphans:3;widows:3;break-after:avoid}
.time{font:14px/2 "Atkinson Hyperlegible",Verdana,sans-serif;color:#595c60}
.class,.facts,.stills{margin-left:64px}
.class{break-after:avoid}
.facts{margin-top:0;margin-bottom:8px}
.facts div{display:grid;grid-template-columns:72px 1fr;padding:1px 0;break-inside:avoid}
header .facts{margin-left:0}
dt{color:#595c60}
dd{margin:0}
.stills{display:grid;grid-template-columns:repeat(auto-fill,minmax(260px,1fr));gap:12px}
.by-four{grid-template-columns:repeat(auto-fill,minmax(190px,1fr))}
figure{margin:0;break-inside:avoid}
figure img{display:block;width:100%;height:auto;background:#141619}
figcaption{font-size:13px;padding-top:4px}
.small-caps{font-variant:small-caps}
sup,sub{line-height:0}
.unseen{font-size:11px;border:1px solid #8b8d8f;border-radius:3px;padding:0 3px}
a{color:#14505f}
@media (max-width:640px){.class,.facts,.stills{margin-left:0}.words{grid-template-columns:1fr}}
@media print{
@page{margin:16mm 14mm}
body{background:#fff;font-size:10.5pt}
main{max-width:none;padding:0}
.words{font-size:12pt}
.stills{grid-template-columns:repeat(2,1fr)}
figure img{max-height:75mm;object-fit:contain;object-position:left;width:auto;max-width:100%}
h1,h2{break-after:avoid}
}
`

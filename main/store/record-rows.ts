import type { Database, Statement } from 'better-sqlite3'
import type { LandmarkHead, Pack, ParagraphRecord, Records, TableName } from '../../app/edit/records'
import type { PackHead } from '../../app/edit/project-state'
import type { Sample } from '../../app/project/film'
import type { Mark, Pair, Shot } from '../../app/project/picture'
import type { Measure } from '../../app/project/question'
import { flatTables, type FlatRecords } from './record-columns'
import { toRecord, toRow, type Row } from './columns'

type Ordered = Exclude<TableName, 'settings' | 'packs' | 'paragraphs'>

/// The records of one project file as rows. Verbs throw SQLite's errors; whoever calls holds the
/// transaction.
export class RecordRows {
  private readonly statements = new Map<string, Statement>()

  constructor(private readonly db: Database) {}

  /// Records of a table in their order. Packs come without their samples.
  list<T extends Exclude<TableName, 'packs' | 'paragraphs'>>(table: T): Records[T][] {
    if (table === 'measures')
      return this.all('SELECT body FROM measure ORDER BY position').map((row) => JSON.parse(String(row['body'])) as Records[T])
    const { table: name, columns } = flatTables[table as keyof FlatRecords]
    const order = table === 'settings' ? '' : ' ORDER BY position'
    return this.all(`SELECT * FROM ${name}${order}`).map((row) => toRecord<Records[T]>(columns, row))
  }

  packHeads(): PackHead[] {
    return this.all('SELECT clip, subject, point, pack, first, last FROM landmark_pack').map(
      (row) => ({ ...row, samples: null }) as unknown as PackHead,
    )
  }

  /// A landmark's packs that touch frames `from` (included) to `to` (excluded), in order.
  packs(of: LandmarkHead, from: number, to: number): Pack[] {
    return this.all(
      'SELECT pack, samples FROM landmark_pack WHERE clip = ? AND subject = ? AND point = ? AND last >= ? AND first < ? ORDER BY pack',
      of.clip,
      of.subject,
      of.point,
      from,
      to,
    ).map((row) => ({
      clip: of.clip,
      subject: of.subject,
      point: of.point,
      pack: Number(row['pack']),
      samples: JSON.parse(String(row['samples'])) as Sample[],
    }))
  }

  /// One pack by its key, or undefined.
  pack(key: string): Pack | undefined {
    const [clip = '', subject = '', point = '', pack = ''] = key.split('/')
    const row = this.all(
      'SELECT samples FROM landmark_pack WHERE clip = ? AND subject = ? AND point = ? AND pack = ?',
      clip,
      subject,
      point,
      Number(pack),
    )[0]
    return row && { clip, subject, point, pack: Number(pack), samples: JSON.parse(String(row['samples'])) as Sample[] }
  }

  paragraphs(): ParagraphRecord[] {
    const marks = groupBy(
      this.all('SELECT paragraph, shot, body FROM mark ORDER BY paragraph, shot, position'),
      (row) => `${row['paragraph']}/${row['shot']}`,
    )
    const members = groupBy(
      this.all('SELECT paragraph, shot, body FROM pair_member ORDER BY paragraph, shot, position'),
      (row) => `${row['paragraph']}/${row['shot']}`,
    )
    const shots = groupBy(this.all('SELECT paragraph, position, body FROM shot ORDER BY paragraph, position'), (row) =>
      String(row['paragraph']),
    )
    const takes = new Map(this.all('SELECT paragraph, file FROM take').map((row) => [row['paragraph'], String(row['file'])]))
    const bodies = (rows: readonly Row[] | undefined): unknown[] => (rows ?? []).map((row): unknown => JSON.parse(String(row['body'])))
    return this.all('SELECT id, title, shots, narration FROM paragraph ORDER BY position').flatMap((row) => {
      const id = String(row['id'])
      const record: ParagraphRecord = { id }
      if (row['shots'] !== null) {
        record.shots = (shots.get(id) ?? []).map((shotRow) => {
          const shot = JSON.parse(String(shotRow['body'])) as Shot
          const key = `${id}/${shotRow['position']}`
          if ('pair' in shot) shot.pair = bodies(members.get(key)) as Pair['pair']
          if ('marks' in shot && shot.marks) shot.marks = bodies(marks.get(key)) as Mark[]
          return shot
        })
      }
      const take = takes.get(id)
      if (take !== undefined) record.take = take
      if (row['narration'] !== null) record.narration = JSON.parse(String(row['narration'])) as NonNullable<ParagraphRecord['narration']>
      if (row['title'] !== null) record.title = JSON.parse(String(row['title'])) as NonNullable<ParagraphRecord['title']>
      return Object.keys(record).length > 1 ? [record] : []
    })
  }

  /// Adds a record after the one called `after` (null: first), or last when `after` is undefined.
  add<T extends TableName>(table: T, record: Records[T], after?: string | null): void {
    if (table === 'packs') return this.writePack(record as Pack)
    if (table === 'paragraphs') return this.writeParagraph(record as ParagraphRecord)
    if (table === 'settings')
      return this.insert('project', { ...toRow(flatTables.settings.columns, record as Records['settings']), one: 1 })
    const { name, row } = this.orderedRow(table as Ordered, record as Records[Ordered])
    this.insert(name, { ...row, position: this.place(table as Ordered, after) })
  }

  /// Writes a record anew under the key that it has.
  replace<T extends TableName>(table: T, key: string, record: Records[T]): void {
    if (table === 'packs') return this.writePack(record as Pack)
    if (table === 'paragraphs') return this.writeParagraph(record as ParagraphRecord)
    if (table === 'settings') {
      this.run('DELETE FROM project')
      return this.add('settings', record as Records['settings'])
    }
    const { name, row } = this.orderedRow(table as Ordered, record as Records[Ordered])
    const columns = Object.keys(row)
    const { where, values } = this.whereKey(table as Ordered, key)
    this.run(
      `UPDATE ${name} SET ${columns.map((c) => `${c} = ?`).join(', ')} WHERE ${where}`,
      ...columns.map((c) => row[c] ?? null),
      ...values,
    )
  }

  remove(table: TableName, key: string): void {
    if (table === 'packs') {
      const [clip = '', subject = '', point = '', pack = ''] = key.split('/')
      this.run('DELETE FROM landmark_pack WHERE clip = ? AND subject = ? AND point = ? AND pack = ?', clip, subject, point, Number(pack))
    } else if (table === 'paragraphs') this.clearParagraph(key)
    else if (table === 'settings') throw new RangeError('settings are changed, never removed')
    else {
      const { where, values } = this.whereKey(table, key)
      this.run(`DELETE FROM ${nameOf(table)} WHERE ${where}`, ...values)
    }
  }

  /// Rows of a statement, kept prepared.
  all(sql: string, ...values: (string | number)[]): Row[] {
    return this.prepared(sql).all(...values) as Row[]
  }

  run(sql: string, ...values: (string | number | null)[]): void {
    this.prepared(sql).run(...values)
  }

  private prepared(sql: string): Statement {
    const known = this.statements.get(sql)
    if (known) return known
    const made = this.db.prepare(sql)
    this.statements.set(sql, made)
    return made
  }

  private insert(name: string, row: Row): void {
    const columns = Object.keys(row)
    this.run(
      `INSERT INTO ${name} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
      ...columns.map((c) => row[c] ?? null),
    )
  }

  private orderedRow(table: Ordered, record: Records[Ordered]): { name: string; row: Row } {
    if (table === 'measures') return { name: 'measure', row: { id: (record as Measure).id, body: JSON.stringify(record) } }
    return { name: flatTables[table].table, row: toRow(flatTables[table].columns, record) }
  }

  private whereKey(table: Ordered, key: string): { where: string; values: string[] } {
    return {
      where: keyColumns(table)
        .map((c) => `${c} = ?`)
        .join(' AND '),
      values: key.split('/'),
    }
  }

  /// A free position right after the record called `after`.
  private place(table: Ordered, after: string | null | undefined): number {
    const name = nameOf(table)
    if (after === undefined) return Number(this.all(`SELECT coalesce(max(position), 0) + 1 AS p FROM ${name}`)[0]?.['p'])
    if (after === null) return Number(this.all(`SELECT coalesce(min(position), 1) - 1 AS p FROM ${name}`)[0]?.['p'])
    const { where, values } = this.whereKey(table, after)
    const at = this.all(`SELECT position AS p FROM ${name} WHERE ${where}`, ...values)[0]
    if (!at) throw new RangeError(`${table} has no ${after}`)
    const position = Number(at['p']) + 1
    if (this.all(`SELECT 1 FROM ${name} WHERE position = ?`, position).length > 0)
      this.run(`UPDATE ${name} SET position = position + 1 WHERE position >= ?`, position)
    return position
  }

  private writePack(pack: Pack): void {
    this.run(
      'INSERT OR REPLACE INTO landmark_pack (clip, subject, point, pack, first, last, samples) VALUES (?, ?, ?, ?, ?, ?, ?)',
      pack.clip,
      pack.subject,
      pack.point,
      pack.pack,
      pack.samples[0]?.frame ?? 0,
      pack.samples.at(-1)?.frame ?? 0,
      JSON.stringify(pack.samples),
    )
  }

  private writeParagraph(record: ParagraphRecord): void {
    this.clearParagraph(record.id)
    const json = (value: unknown): string | null => (value === undefined ? null : JSON.stringify(value))
    this.run(
      'UPDATE paragraph SET title = ?, shots = ?, narration = ? WHERE id = ?',
      json(record.title),
      record.shots?.length ?? null,
      json(record.narration),
      record.id,
    )
    if (record.take !== undefined) this.run('INSERT INTO take (paragraph, file) VALUES (?, ?)', record.id, record.take)
    record.shots?.forEach((shot, i) => this.writeShot(record.id, i, shot))
  }

  private writeShot(paragraph: string, position: number, shot: Shot): void {
    const marks = 'marks' in shot ? shot.marks : undefined
    const body = { ...shot, ...('pair' in shot ? { pair: [] } : {}), ...(marks ? { marks: [] } : {}) }
    this.run('INSERT INTO shot (paragraph, position, body) VALUES (?, ?, ?)', paragraph, position, JSON.stringify(body))
    if ('pair' in shot)
      shot.pair.forEach((member, i) =>
        this.run(
          'INSERT INTO pair_member (paragraph, shot, position, body) VALUES (?, ?, ?, ?)',
          paragraph,
          position,
          i,
          JSON.stringify(member),
        ),
      )
    marks?.forEach((mark, i) =>
      this.run('INSERT INTO mark (paragraph, shot, position, body) VALUES (?, ?, ?, ?)', paragraph, position, i, JSON.stringify(mark)),
    )
  }

  private clearParagraph(id: string): void {
    this.run('UPDATE paragraph SET title = NULL, shots = NULL, narration = NULL WHERE id = ?', id)
    this.run('DELETE FROM take WHERE paragraph = ?', id)
    this.run('DELETE FROM shot WHERE paragraph = ?', id)
  }
}

function keyColumns(table: Ordered): readonly string[] {
  if (table === 'measures') return ['id']
  const { columns, key } = flatTables[table]
  return key.map((k) => (columns as Readonly<Record<string, { name: string }>>)[k]?.name ?? k)
}

const nameOf = (table: Ordered): string => (table === 'measures' ? 'measure' : flatTables[table].table)

function groupBy(rows: readonly Row[], keyOf: (row: Row) => string): Map<string, Row[]> {
  const groups = new Map<string, Row[]>()
  for (const row of rows) {
    const group = groups.get(keyOf(row))
    if (group) group.push(row)
    else groups.set(keyOf(row), [row])
  }
  return groups
}

import type { VoiceId } from "@resolutio/core"
import { useState } from "react"
import { useApp, useReading, useView } from "../../app.js"
import { Field } from "../../parts/field.js"
import { useAnswer } from "../../parts/use-answer.js"
import type { CellTold, SeriesTold } from "../../reading/told-chapters.js"
import { lookAt } from "../../view/view.js"
import { chapterWords } from "../../words/chapters.js"

const said = chapterWords.repeats

/** Color and talea: statements under one another, a column for each place. */
export function RepeatsChapter() {
  const { readings } = useApp()
  const voices = useReading(state => state.page.voices)
  const [voice, setVoice] = useState<VoiceId>()
  const { answer } = useAnswer(() => readings.repeats(voice), voice)
  if (voices.length === 0) return <p className="quiet">{said.none}</p>
  if (!answer) return <p className="quiet">{said.looking}</p>
  return (
    <div>
      <Field name={said.of}>
        {id => (
          <select id={id} value={answer.voice} onChange={({ target }) => setVoice(target.value as VoiceId)}>
            {voices.map(one => (
              <option key={one.id} value={one.id}>
                {one.label || one.n}
              </option>
            ))}
          </select>
        )}
      </Field>
      <h3 className="sentence">{answer.plan}</h3>
      {answer.series.map((series, i) => (
        <Statements key={i} series={series} />
      ))}
    </div>
  )
}

function Statements({ series }: { readonly series: SeriesTold }) {
  return (
    <div className="statements">
      <div className="wide-table" tabIndex={0} role="region" aria-label={series.words}>
        <table>
          <caption>
            {series.words}
            {series.doubt >= 0.5 && ` ${said.mayBeChance}`}
          </caption>
          <thead>
            <tr>
              <th scope="col">{said.statement}</th>
              {series.head.map((head, i) => (
                <th key={i} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {series.rows.map(row => (
              <tr key={row.number}>
                <th scope="row">{row.number}</th>
                {row.cells.map((cell, i) => (
                  <Cell key={i} cell={cell} />
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <ul>
        {series.differences.map(({ sign, text }) => (
          <li key={`${sign} ${text}`}>
            <button type="button" className="line-act" onClick={() => lookAt(sign)}>
              * {text}
            </button>
          </li>
        ))}
      </ul>
    </div>
  )
}

function Cell({ cell }: { readonly cell: CellTold }) {
  const selected = useView(state => state.selected)
  const { sign, above, below, differs } = cell
  const content = (
    <>
      <b>
        {above}
        {differs && <span title={said.differs}>*</span>}
      </b>
      <span className="quiet">{below}</span>
    </>
  )
  if (sign === undefined) return <td>{content}</td>
  return (
    <td aria-current={sign === selected}>
      <button type="button" onClick={() => lookAt(sign)}>
        {content}
      </button>
    </td>
  )
}

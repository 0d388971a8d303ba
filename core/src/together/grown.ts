/** Rows of numbers that grow. */
type Row = Float64Array<ArrayBuffer> | Int32Array<ArrayBuffer> | Uint8Array<ArrayBuffer>

/** The row, with room for so many: itself, or a copy that has room for twice as many. */
export function roomFor<R extends Row>(row: R, count: number): R {
  if (count <= row.length) return row
  const larger = new (row.constructor as new (length: number) => R)(Math.max(count, 2 * row.length))
  larger.set(row)
  return larger
}

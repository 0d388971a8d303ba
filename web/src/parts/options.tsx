/** What a list offers: each value with its words, in their order. */
export function Options({ values }: { readonly values: readonly (readonly [value: string, shown: string])[] }) {
  return values.map(([value, shown]) => (
    <option key={value} value={value}>
      {shown}
    </option>
  ))
}

/** "No sign", "One sign", "Two signs"; in figures from thirteen on. */
export const counted = (n: number, one: string, more: string): string => `${NUMBERS[n] ?? n} ${n === 1 ? one : more}`
const NUMBERS = [
  "No",
  "One",
  "Two",
  "Three",
  "Four",
  "Five",
  "Six",
  "Seven",
  "Eight",
  "Nine",
  "Ten",
  "Eleven",
  "Twelve",
]

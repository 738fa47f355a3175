/** Where the frame loop finds the plot that is on the page now; there is none while words stand in its place. */
export interface DrawTarget {
  draw: ((perfS: number) => void) | undefined;
}

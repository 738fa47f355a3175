/**
 * Many updates, one drawing: everything asks here, and one animation frame draws. After the frame has gone to the screen
 * the newest binary message is acknowledged, from a task of its own: an animation frame's callback still runs before the
 * painting.
 */

export class FrameLoop {
  private running = false;
  private readonly afterPaint = new MessageChannel();

  /**
   * @param draw draws one frame at the browser's monotonic time in seconds
   * @param painted called after the frame has been drawn
   */
  constructor(
    private readonly draw: (perfS: number) => void,
    painted: () => void,
  ) {
    this.afterPaint.port1.onmessage = painted;
  }

  start(): void {
    if (this.running) return;
    this.running = true;
    requestAnimationFrame(this.onFrame);
  }

  private readonly onFrame = (timeMs: number): void => {
    requestAnimationFrame(this.onFrame);
    this.draw(timeMs / 1000);
    this.afterPaint.port2.postMessage(undefined);
  };
}

/** The usual cautions of maximal strength testing, acknowledged once per session and always within reach. */

export const cautions = {
  title: 'Before anyone pulls or pushes hard',
  lead: 'Heldmark measures force. It is not a medical device and gives no medical advice.',
  points: [
    'A qualified person supervises. Local rules and licensed practice decide what may be tested.',
    'Screen the person first: recent injury or surgery, heart or blood pressure, pregnancy, and what else your list names.',
    'Warm up, and let effort grow over several trials. Build force over a second or two; keep breathing.',
    'Stop at once on sharp or new pain, on dizziness, or when the person wants to stop.',
    'Look over cell, strap, cuff and anchor before the session, and stay well below the rated load.',
  ],
  accept: 'Read and understood',
} as const;

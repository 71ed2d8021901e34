// The usual cautions of the work, said on the screen, on the job sheet and in the README. Makers, local rules and teachers come first.

export const CAUTIONS = {
  stopped: 'Stop the lathe before the jaws touch the work.',
  cutter: 'Keep hands, sleeves and tissue clear of the cutter. Wear eye and face protection.',
  chasing: 'Run slowly, rest close, sleeves clear. Wear eye and face protection.',
  glue: 'Thin cyanoacrylate: fumes, bonds skin, heats on paper and cotton. Guard eyes, air the room.',
  dust: 'Sanding: wear a dust mask, run the lathe slowly, hold the paper lightly.',
  byHand: 'Stop the lathe. Screw the pair together by hand.',
  speed: "Never exceed the cutter's or lathe's rated speed.",
  manuals: "Follow the makers' manuals, local rules and proper training.",
} as const;

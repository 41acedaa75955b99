import { idsOf } from './book.ts'
import { chanceFrom } from './chance.ts'
import { layOutShop } from './lay-out.ts'

for (const iso of process.argv.slice(2)) {
  const chance = chanceFrom(318)
  try {
    const t = performance.now()
    const shop = layOutShop(Date.parse(iso), chance, idsOf(chance.of('ids')))
    console.log(iso, shop.deeds.length, 'deeds', shop.lives.length, 'lives', shop.tagsBefore, Math.round(performance.now() - t), 'ms')
  } catch (e) {
    console.log(iso, (e as Error).stack?.split('\n').slice(0, 4).join('\n'))
  }
}

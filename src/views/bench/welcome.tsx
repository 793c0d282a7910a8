// The first visit: what this is, in a sentence and a picture, and two ways on.
import { Actions, Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import './welcome.css';

export function Welcome() {
  const { preferences } = useWorkshop();
  if (preferences.settings.value.isWelcomed) return null;
  const t = words.shell.welcome;
  const goOn = () => preferences.change({ isWelcomed: true });
  return (
    <Card title={t.title} class="welcome">
      <div class="welcome-columns">
        <div>
          <p>{t.text}</p>
          <Actions>
            <Button
              kind="primary"
              text={t.mine}
              onPress={() => {
                goOn();
                location.hash = '#/record';
              }}
            />
            <Button text={t.example} onPress={goOn} />
          </Actions>
        </div>
        <Picture label={t.picture} />
      </div>
    </Card>
  );
}

/** A plate with its braces, rings where it is tapped, and a line of peaks with a band to come to. */
function Picture(props: { readonly label: string }) {
  return (
    <svg class="welcome-picture" viewBox="0 0 200 90" role="img" aria-label={props.label}>
      <path d="M40 6C58 6 60 20 56 34C52 46 66 50 66 66C66 80 54 86 40 86C26 86 14 80 14 66C14 50 28 46 24 34C20 20 22 6 40 6Z" />
      <path d="M28 24L56 70M52 24L24 70" />
      <circle cx="40" cy="32" r="7" />
      <circle class="welcome-tap" cx="40" cy="62" r="3" />
      <path class="welcome-ring" d="M31 62a9 9 0 0 1 18 0M26 62a14 14 0 0 1 28 0" />
      <rect class="welcome-band" x="104" y="14" width="16" height="62" />
      <path d="M84 76H192" />
      <path
        class="welcome-peaks"
        d="M84 74C108 74 118 70 124 22C130 70 136 72 144 72C150 72 152 44 156 44C160 44 162 73 192 74"
      />
      <path d="M124 12H112M116 8L112 12L116 16" />
    </svg>
  );
}

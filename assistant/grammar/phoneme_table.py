"""The phonemes of the grammar's words: a table, from memory, no source. ARPAbet without stress.

An entry is a word and its phonemes; semicolons separate entries.
"""

PHONEMES = """
a AH; about AH B AW T; acknowledged AE K N AA L IH JH D; added AE D IH D;
affirmative AH F ER M AH T IH V; again AH G EH N; agreed AH G R IY D; air EH R; alarm AH L AA R M;
alight AH L AY T; all AO L; already AO L R EH D IY; am AE M; american AH M EH R IH K AH N; an AE N;
and AE N D; any EH N IY; are AA R; ash AE SH; ask AE S K; at AE T; away AH W EY; back B AE K;
banked B AE NG K T; banking B AE NG K IH NG; bar B AA R; barrier B AE R IY ER; be B IY; bearings B EH R IH NG Z; been B IH N;
better B EH T ER; blow B L OW; blower B L OW ER; blowing B L OW IH NG; blown B L OW N;
blows B L OW Z; boiler B OY L ER; book B UH K; bottom B AA T AH M; brake B R EY K;
broken B R OW K AH N; built B IH L T; burned B ER N D; burst B ER S T; by B AY; bypass B AY P AE S;
can K AE N; can't K AE N T; cancel K AE N S AH L; cannot K AE N AA T; capped K AE P T;
carry K EH R IY; caught K AO T; check CH EH K; child CH AY L D; chimney CH IH M N IY;
chocked CH AA K T; clack K L AE K; clean K L IY N; clear K L IH R; close K L OW Z;
closed K L OW Z D; coal K OW L; cocks K AA K S; come K AH M; comes K AH M Z; coming K AH M IH NG;
cool K UW L; correct K ER EH K T; cost K AO S T; cracked K R AE K T; cylinder S IH L AH N D ER;
damper D AE M P ER; danger D EY N JH ER; date D EY T; dead D EH D; delivery D IH L IH V ER IY;
did D IH D; dirty D ER T IY; ditch D IH CH; do D UW; does D AH Z; dog D AO G; done D AH N;
down D AW N; drain D R EY N; drained D R EY N D; drains D R EY N Z; draught D R AE F T; draw D R AO;
drawn D R AO N; draws D R AO Z; driver D R AY V ER; dropped D R AA P T; drops D R AA P S;
dry D R AY; eased IY Z D; eight EY T; eighteen EY T IY N; eighth EY T TH; eighths EY T TH S;
eighty EY T IY; eleven IH L EH V AH N; emergency IH M ER JH AH N S IY; empty EH M P T IY;
end EH N D; engine EH N JH IH N; escaping IH S K EY P IH NG; everyone EH V R IY W AH N;
everything EH V R IY TH IH NG; expansion IH K S P AE N SH AH N; explain IH K S P L EY N;
extension IH K S T EH N SH AH N; failed F EY L D; faint F EY N T; far F AA R; feather F EH DH ER;
feathering F EH DH ER IH NG; feed F IY D; feeding F IY D IH NG; feel F IY L; feeling F IY L IH NG;
fifteen F IH F T IY N; fifty F IH F T IY; fills F IH L Z; finish F IH N IH SH;
finished F IH N IH SH T; fire F AY ER; firebox F AY ER B AA K S; firing F AY ER IH NG; five F AY V;
flue F L UW; for F AO R; forty F AO R T IY; found F AW N D; four F AO R; fourteen F AO R T IY N;
free F R IY; fresh F R EH SH; fuel F Y UW L; full F UH L; fully F UH L IY; fumes F Y UW M Z;
fusible F Y UW Z IH B AH L; gain G EY N; gaining G EY N IH NG; gallon G AE L AH N;
gallons G AE L AH N Z; gauge G EY JH; gear G IH R; give G IH V; glass G L AE S; gloves G L AH V Z;
go G OW; gone G AO N; good G UH D; got G AA T; grass G R AE S; greased G R IY S T; half HH AE F;
halfway HH AE F W EY; hand HH AE N D;
handed HH AE N D IH D; handing HH AE N D IH NG; hangs HH AE NG Z; has HH AE Z; have HH AE V; hear HH IH R;
heard HH ER D; help HH EH L P; her HH ER; hit HH IH T; hold HH OW L D; holds HH OW L D Z;
hose HH OW Z; hot HH AA T; how HH AW; hundred HH AH N D R IH D; hurt HH ER T; i AY; i'm AY M;
if IH F; ill IH L; imperial IH M P IH R IY AH L; in IH N; inch IH N CH; inches IH N CH IH Z;
injector IH N JH EH K T ER; inside IH N S AY D; is IH Z; it IH T; it's IH T S; items AY T AH M Z;
itself IH T S EH L F; joint JH OY N T; just JH AH S T; keep K IY P; kept K EH P T; kilo K IY L OW;
kilopascals K IH L OW P AE S K AH L Z; kilos K IY L OW Z; last L AE S T; later L EY T ER;
leak L IY K; leaking L IY K IH NG; leaks L IY K S; leave L IY V; leaving L IY V IH NG;
left L EH F T; let L EH T; level L EH V AH L; lift L IH F T; lifted L IH F T IH D;
lifting L IH F T IH NG; line L AY N; listening L IH S AH N IH NG; lit L IH T; litre L IY T ER;
litres L IY T ER Z; log L AO G; long L AO NG; longer L AO NG G ER; looked L UH K T;
losing L UW Z IH NG; lost L AO S T; lubricator L UW B R IH K EY T ER; made M EY D; make M EY K;
many M EH N IY; may M EY; me M IY; mend M EH N D; millimetres M IH L IH M IY T ER Z;
minder M AY N D ER; minute M IH N IH T; minutes M IH N IH T S; more M AO R; motion M OW SH AH N;
move M UW V; moves M UW V Z; moving M UW V IH NG; much M AH CH; near N IH R; nearly N IH R L IY;
needle N IY D AH L; negative N EH G AH T IH V; next N EH K S T; night N AY T;
nine N AY N; niner N AY N ER;
nineteen N AY N T IY N; ninety N AY N T IY; no N OW; nobody N OW B AA D IY; none N AH N;
nose N OW Z; not N AA T; note N OW T; noted N OW T IH D; nothing N AH TH IH NG; nought N AO T;
now N AW; nut N AH T; of AH V; off AO F; oh OW; oil OY L; oiled OY L D; on AA N; once W AH N S;
one W AH N; only OW N L IY; open OW P AH N; out AW T; outside AW T S AY D; over OW V ER; pan P AE N;
papers P EY P ER Z; people P IY P AH L; percent P ER S EH N T; pick P IH K; picks P IH K S;
pin P IH N; pipe P AY P; pipes P AY P S; please P L IY Z; plug P L AH G; point P OY N T;
pound P AW N D; pounds P AW N D Z; power P AW ER; pressure P R EH SH ER; previous P R IY V IY AH S;
psi P IY EH S AY; pump P AH M P; put P UH T; putting P UH T IH NG; quarter K W AO R T ER;
quarters K W AO R T ER Z; quiet K W AY AH T; raise R EY Z; raising R EY Z IH NG; rake R EY K;
read R EH D; reading R IY D IH NG; ready R EH D IY; real R IY L; reason R IY Z AH N;
regulator R EH G Y AH L EY T ER; remind R IH M AY N D; repairs R IH P EH R Z; repeat R IH P IY T;
rest R EH S T; right R AY T; rises R AY Z IH Z; rising R AY Z IH NG; round R AW N D; run R AH N;
running R AH N IH NG; runs R AH N Z; safe S EY F; safety S EY F T IY; said S EH D; same S EY M;
say S EY; scalded S K AO L D IH D; scratch S K R AE CH; seated S IY T IH D; see S IY; seen S IY N;
session S EH SH AH N; seven S EH V AH N; seventeen S EH V AH N T IY N; seventy S EH V AH N T IY;
she SH IY; shelve SH EH L V; should SH UH D; showing SH OW IH NG; shut SH AH T; side S AY D;
sight S AY T; signed S AY N D; silence S AY L AH N S; six S IH K S; sixteen S IH K S T IY N;
sixty S IH K S T IY; skip S K IH P; slow S L OW; slowly S L OW L IY; so S OW; soft S AO F T;
some S AH M; somebody S AH M B AA D IY; someone S AH M W AH N; something S AH M TH IH NG;
stack S T AE K; stand S T AE N D; standing S T AE N D IH NG; stands S T AE N D Z; stay S T EY;
stays S T EY Z; steam S T IY M; step S T EH P; still S T IH L; stop S T AA P; stopped S T AA P T;
strainer S T R EY N ER; stuck S T AH K; sure SH UH R; swept S W EH P T; take T EY K; takes T EY K S;
talking T AO K IH NG; tank T AE NG K; tell T EH L; ten T EH N; tenth T EH N TH; tenths T EH N TH S;
test T EH S T; that DH AE T; that's DH AE T S; the DH AH; third TH ER D; thirds TH ER D Z;
thirteen TH ER T IY N; thirty TH ER T IY; this DH IH S; thousand TH AW Z AH N D; three TH R IY;
throttle TH R AA T AH L; tight T AY T; time T AY M; to T UW; today T AH D EY; top T AA P;
touched T AH CH T; trapped T R AE P T; trouble T R AH B AH L; tube T UW B; tubes T UW B Z;
twelve T W EH L V; twenty T W EH N T IY; two T UW; under AH N D ER; underneath AH N D ER N IY TH;
understood AH N D ER S T UH D; undo AH N D UW; up AH P; used Y UW Z D; valve V AE L V;
very V EH R IY; wait W EY T; was W AH Z; watch W AA CH; watching W AA CH IH NG; water W AO T ER;
we W IY; weak W IY K; well W EH L; were W ER; wet W EH T; what W AH T; what's W AH T S;
wheels W IY L Z; when W EH N; where W EH R; why W AY; wide W AY D; will W IH L; wire W AY ER;
won't W OW N T; worked W ER K T; working W ER K IH NG; works W ER K S; would W UH D; write R AY T;
wrong R AO NG; yes Y EH S; yet Y EH T; you Y UW; zero Z IH R OW
"""

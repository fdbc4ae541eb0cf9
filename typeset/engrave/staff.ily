%% How Shedbook's blocks are set: one system on a page of its own, every slot where it is told to stand.
%%
%% Each score says in System.details where its bars go, in millimetres from the staff's left end:
%%   bars     ((moment . x) ...)  the place of each bar's first moment; the others follow in even time
%%   quarter  x                   how wide a quarter note is
%%   barlines ((moment . x) ...)  the middle of each inner barline
%%   meters   ((moment . x) ...)  the middle of each meter inside the system
%%   opening  x or #f             the middle of an opening repeat
%%   width    x                   the right edge of the last barline
%%
%% Before this file come, in staff spaces, shed-before-head, from a head's middle to that of the grace note before
%% it, and shed-between-graces, from there to the one before that.

%% Sizes, in LilyPond's font-size steps (six of them double a size).
#(define shed-small -5)
#(define shed-additive-size -4)
#(define shed-tuplet-size -2)
#(define shed-volta-size 3)

%% Where a meter behind the clef begins, in staff spaces.
#(define shed-meter-at 3.1)

#(define (shed-detail system key)
   (assoc-get key (ly:grob-property system 'details) #f))

#(define (shed-at places moment)
   (let ((found (assv (ly:moment-main moment) places)))
     (and found (cdr found))))

#(define (shed-middle grob system)
   (interval-center (ly:grob-extent grob system X)))

%% Where a moment goes. (A place for each of them would take longer to read than all else that a score says.)
#(define (shed-place-of moment bars quarter)
   (if (and (pair? (cdr bars)) (>= moment (caadr bars)))
       (shed-place-of moment (cdr bars) quarter)
       (+ (cdar bars) (* 4 quarter (- moment (caar bars))))))

%% What is placed by its own middle or edge, by the column it stands in: found once, for there are hundreds of grobs.
#(define (shed-by-column system)
   (let ((found (make-hash-table)))
     (for-each
       (lambda (grob)
         (if (memq (grob::name grob) '(NoteHead Rest BarLine TimeSignature))
             (let ((column (ly:item-get-column grob)))
               (hashq-set! found column (cons grob (hashq-ref found column '()))))))
       (ly:grob-array->list (ly:grob-object system 'all-elements)))
     found))

%% The leftmost of these grobs that is of a kind and shows; of two at one place the one that was made first.
#(define (shed-leftmost kind grobs system)
   (fold
     (lambda (grob best)
       (if (and (eq? (grob::name grob) kind)
                (ly:stencil? (ly:grob-property grob 'stencil))
                (or (not best)
                    (<= (car (ly:grob-extent grob system X)) (car (ly:grob-extent best system X)))))
           grob
           best))
     #f
     grobs))

#(define (shed-move grob from to)
   (ly:grob-translate-axis! grob (- to from) X))

%% Lines have been broken (there is one), nothing has been drawn: now each column goes to its place.
#(define (shed-place system)
   (let* ((mm (ly:output-def-lookup (ly:grob-layout system) 'mm))
          (columns (ly:grob-array->list (ly:grob-object system 'columns)))
          (end (last columns))
          (found (shed-by-column system)))
     (for-each
       (lambda (column)
         (let ((grobs (hashq-ref found column '())))
           (if (eq? (grob::name column) 'PaperColumn)
               (shed-place-moment column grobs system mm)
               (shed-place-barline column grobs system mm (eq? column (car columns)) (eq? column end)))))
       columns)))

%% A column of notes: the leftmost head's middle, or else the rest's, goes to the place of its moment;
%% grace notes crowd up to the left of it.
#(define (shed-place-moment column grobs system mm)
   (let ((moment (ly:grob-property column 'when))
         (bars (shed-detail system 'bars)))
     (if (and bars (ly:moment? moment))
         (let ((shown (or (shed-leftmost 'NoteHead grobs system) (shed-leftmost 'Rest grobs system)))
               (x (shed-place-of (ly:moment-main moment) bars (shed-detail system 'quarter)))
               (graces (* -16 (ly:moment-grace moment))))
           (shed-move column
             (if shown (shed-middle shown system) (ly:grob-relative-coordinate column system X))
             (- (* mm x)
                (if (> graces 0) (+ shed-before-head (* shed-between-graces (- graces 1))) 0)))))))

%% A column of a barline: the first is the staff's beginning and stays, the last ends the staff.
#(define (shed-place-barline column grobs system mm is-first is-last)
   (let* ((moment (ly:grob-property column 'when))
          (at (lambda (key) (and (ly:moment? moment) (shed-at (shed-detail system key) moment))))
          (bar (shed-leftmost 'BarLine grobs system))
          (meter (shed-leftmost 'TimeSignature grobs system)))
     (cond (is-first
            (if (and bar (shed-detail system 'opening))
                (shed-move bar (shed-middle bar system) (* mm (shed-detail system 'opening))))
            (if meter
                (shed-move meter (car (ly:grob-extent meter system X)) shed-meter-at)))
           ((not bar))
           (is-last
            (shed-move column (cdr (ly:grob-extent bar system X)) (* mm (shed-detail system 'width))))
           ((at 'barlines)
            (shed-move column (shed-middle bar system) (* mm (at 'barlines)))
            (if meter
                (shed-move meter (shed-middle meter system) (* mm (at 'meters))))))))

%% One line for each block: its name and the ink's box, in millimetres from the page's upper left corner, up counted positive.
#(define (shed-report layout pages)
   (let* ((mm (ly:output-def-lookup layout 'mm))
          (name (ly:output-def-lookup layout 'shed-name #f))
          (left (ly:output-def-lookup layout 'left-margin))
          (line (and name (car (ly:prob-property (last pages) 'lines)))))
     (if line
         (let* ((stencil (ly:prob-property line 'stencil))
                (x (ly:stencil-extent stencil X))
                (y (ly:stencil-extent stencil Y))
                (down (ly:prob-property line 'Y-offset 0)))
           (format (current-output-port) "shed ~a ~a ~a ~a ~a\n" name
             (/ (+ left (car x)) mm) (/ (- (car y) down) mm)
             (/ (+ left (cdr x)) mm) (/ (- (cdr y) down) mm))
           (force-output (current-output-port))))))

%% Heads: LilyPond's own, and one of ours with a slash through it.
#(define (shed-is-slashed grob)
   (eq? (ly:grob-property grob 'style) 'shed-slashed))

#(define (shed-head-glyph grob)
   (if (shed-is-slashed grob)
       (number->string (min 2 (ly:grob-property grob 'duration-log)))
       (note-head::calc-glyph-name grob)))

#(define (shed-head grob)
   (let* ((head (ly:note-head::print grob))
          (x (ly:stencil-extent head X))
          (slash (make-line-stencil 0.18 (- (car x) 0.3) -0.9 (+ (cdr x) 0.3) 0.9)))
     (if (shed-is-slashed grob) (shed-as-large (ly:stencil-add head slash) head) head)))

%% A stencil that counts for as large as another, so that neighbours and stems stay where they are.
#(define (shed-as-large stencil other)
   (ly:make-stencil (ly:stencil-expr stencil) (ly:stencil-extent other X) (ly:stencil-extent other Y)))

%% A ghost stroke: the head in small parentheses that take no room.
#(define (shed-ghost-head grob)
   (let* ((head (shed-head grob))
          (font (ly:grob-default-font grob))
          (left (ly:stencil-scale (ly:font-get-glyph font "accidentals.leftparen") 0.66 0.86))
          (right (ly:stencil-scale (ly:font-get-glyph font "accidentals.rightparen") 0.66 0.86))
          (x (ly:stencil-extent head X)))
     (shed-as-large
       (ly:stencil-add head
         (ly:stencil-translate-axis left (- (car x) (cdr (ly:stencil-extent left X))) X)
         (ly:stencil-translate-axis right (- (cdr x) (car (ly:stencil-extent right X))) X))
       head)))

%% A buzz stroke: a z on the stem.
#(define (shed-buzz grob)
   (ly:stencil-translate
     (make-connected-path-stencil '((0.8 0) (0 -0.8) (0.8 -0.8)) 0.18 1 1 #f #f)
     '(-0.4 . 0.4)))

%% An additive meter: its groups, such as 3+2+2, stand in small figures over the staff and the meter, which begins
%% them unless that leaves them too little room to the first note.
#(define ((shed-additive groups below room) grob)
   (let* ((text (string-join (map number->string groups) "+"))
          (figures (grob-interpret-markup grob
                     (make-fontsize-markup shed-additive-size (make-number-markup text))))
          (meter (list (apply + groups) below))
          (sum (shed-from-left (grob-interpret-markup grob (make-compound-meter-markup (list meter)))))
          (left (max (- 0.6 shed-meter-at) (min 0 (- room (shed-width figures))))))
     (shed-as-wide
       (ly:stencil-add sum (ly:stencil-translate (shed-from-left figures) (cons left 3.1)))
       sum)))

#(define (shed-as-wide stencil other)
   (ly:make-stencil (ly:stencil-expr stencil) (ly:stencil-extent other X) (ly:stencil-extent stencil Y)))

#(define (shed-width stencil)
   (interval-length (ly:stencil-extent stencil X)))

#(define (shed-from-left stencil)
   (ly:stencil-translate-axis stencil (- (car (ly:stencil-extent stencil X))) X))

%% The accent stands outside of the open hi-hat's circle.
#(define shed-scripts
   (map (lambda (entry)
          (if (eq? (car entry) 'accent)
              (cons 'accent (acons 'script-priority 200 (cdr entry)))
              entry))
     default-script-alist))

%% Tuplets of one voice and system have their numbers on one height: where the farthest has to be.
#(define (shed-tuplet-positions grob)
   (let* ((direction (ly:grob-property grob 'direction))
          (system (ly:grob-system grob))
          (is-alike (lambda (name)
                      (lambda (other)
                        (and (eq? (grob::name other) name)
                             (ly:grob-property-data other 'stencil)
                             (eqv? (ly:grob-property other 'direction) direction)))))
          (named (lambda (name)
                   (filter (is-alike name) (ly:grob-array->list (ly:grob-object system 'all-elements)))))
          (scripts (named 'Script))
          (farther (lambda (one other) (if (> (* direction one) (* direction other)) one other)))
          (ends (append-map (lambda (bracket)
                              (let ((own (ly:tuplet-bracket::calc-positions bracket)))
                                (cons* (car own) (cdr own) (shed-beyond-scripts bracket scripts direction system))))
                            (cons grob (named 'TupletBracket))))
          (height (reduce farther 0 ends)))
     (cons height height)))

%% How far out a bracket has to be so that its ends keep clear of the scripts that stand under it.
#(define (shed-beyond-scripts bracket scripts direction system)
   (let* ((staff (ly:grob-parent bracket Y))
          (at (lambda (side) (ly:grob-relative-coordinate (ly:spanner-bound bracket side) system X)))
          (left (- (at LEFT) 1))
          (right (+ (at RIGHT) 2.5))
          (is-under (lambda (script) (< left (shed-middle script system) right))))
     (if (ly:grob-property bracket 'bracket-visibility)
         (map (lambda (script)
                (+ (interval-bound (ly:grob-extent script staff Y) direction) (* direction 1.1)))
              (filter is-under scripts))
         '())))

%% A hairpin from one place to another, in millimetres from the staff's left end, open so far at either of them.
#(define ((shed-hairpin left right open-left open-right) grob)
   (let* ((system (ly:grob-system grob))
          (mm (ly:output-def-lookup (ly:grob-layout grob) 'mm))
          (origin (ly:grob-relative-coordinate grob system X))
          (from (- (* mm left) origin))
          (to (- (* mm right) origin))
          (height (ly:grob-property grob 'height))
          (line (lambda (side)
                  (make-line-stencil 0.14 from (* side height open-left) to (* side height open-right)))))
     (ly:stencil-add (line 1) (line -1))))

%% The number of an ending, as a command that begins its bracket.
#(define (shed-volta label)
   (list 'volta (make-fontsize-markup shed-volta-size (make-normal-text-markup (make-simple-markup label)))))

%% The bar before once more.
shedSameBar =
#(define-music-function (bar) (ly:music?)
   (make-music 'PercentEvent 'length (ly:music-length bar)))

shedPaper = \paper {
  ragged-right = ##f
  indent = 0
  top-margin = 0
  bottom-margin = 0
  oddHeaderMarkup = ##f
  evenHeaderMarkup = ##f
  oddFooterMarkup = ##f
  evenFooterMarkup = ##f
  bookTitleMarkup = ##f
  scoreTitleMarkup = ##f
  top-system-spacing = #`((basic-distance . ,shed-above) (minimum-distance . ,shed-above) (padding . -100) (stretchability . 0))
  last-bottom-spacing = #'((basic-distance . 0) (minimum-distance . 0) (padding . -100) (stretchability . 0))
  page-post-process = #shed-report
}

shedUp = { \stemUp \tupletUp \override Script.direction = #UP }
shedDown = { \stemDown \tupletDown \override Script.direction = #DOWN }
shedBuzz = { \once \override StemTremolo.stencil = #shed-buzz }
shedNoNumber = { \once \omit TupletNumber \once \omit TupletBracket }
shedNoBracket = { \once \override TupletBracket.bracket-visibility = ##f }
shedBracket = { \once \override TupletBracket.bracket-visibility = ##t }

%% Everything that a block can show, drawn first in every file in the same order, so that cairo numbers the
%% glyphs of its font programs alike in all of them. A beam too, for cairo goes on joining lines as it did for the
%% last of them, and a page must not depend on the one before.
#(define shed-glyph-names
   '("noteheads.s0" "noteheads.s1" "noteheads.s2" "noteheads.s0cross" "noteheads.s1cross" "noteheads.s2cross"
     "noteheads.s0harmonic" "noteheads.s2harmonic"
     "noteheads.s0do" "noteheads.s1do" "noteheads.s2do" "noteheads.s2xcircle"
     "rests.0" "rests.1" "rests.0o" "rests.1o" "rests.M1" "rests.2" "rests.3" "rests.4" "rests.5" "rests.6"
     "flags.u3" "flags.u4" "flags.u5" "flags.d3" "flags.d4" "flags.d5" "flags.ugrace" "flags.dgrace"
     "dots.dot" "accidentals.leftparen" "accidentals.rightparen" "scripts.sforzato" "scripts.open"
     "clefs.percussion"))

#(define-markup-command (shed-glyphs layout props) ()
   (let ((glyphs (map (lambda (name) (make-musicglyph-markup name)) shed-glyph-names)))
     (interpret-markup layout props
       (make-overlay-markup
         (append glyphs
           (list (make-fontsize-markup shed-small (make-overlay-markup glyphs))
                 (make-number-markup "0123456789+")
                 (make-fontsize-markup shed-additive-size (make-number-markup "0123456789+"))
                 (make-fontsize-markup shed-tuplet-size (make-italic-markup "0123456789"))
                 "0123456789.–"
                 (make-beam-markup 3 0 0.5)))))))

shedGlyphs = \markup \shed-glyphs

\layout {
  %% Square corners: a round one of 0.4 points is not seen, and takes four curves at each stem.
  blot-diameter = 0
  \context {
    \Score
    proportionalNotationDuration = #(ly:make-moment 1/16)
    \override SpacingSpanner.strict-note-spacing = ##t
    \override SpacingSpanner.uniform-stretching = ##t
    \override NonMusicalPaperColumn.line-break-permission = ##f
    %% Columns go to places of our own, however near their outlines would let them come.
    \override PaperColumn.horizontal-skylines = ##f
    \override NonMusicalPaperColumn.horizontal-skylines = ##f
    \override System.after-line-breaking = #shed-place
    \override Beam.damping = #+inf.0
    \override BarLine.thick-thickness = #4.5
    \override BarLine.kern = #2.2
    \override Stem.details.stem-shorten = #'(0)
    \override Rest.staff-position = #0
    \override NoteHead.glyph-name = #shed-head-glyph
    \override NoteHead.stencil = #shed-head
    \override TupletNumber.font-size = #shed-tuplet-size
    \override TupletBracket.positions = #shed-tuplet-positions
    \override MultiMeasureRest.staff-position = #0
    \override StemTremolo.slope = #0.45
    \override DynamicLineSpanner.direction = #UP
    \override DynamicLineSpanner.outside-staff-padding = #0.6
    %% Its number hangs down from a bracket, and nothing may reach up to that.
    \override VoltaBracketSpanner.outside-staff-padding = #2.2
    scriptDefinitions = #shed-scripts
    $(add-grace-property 'Voice 'NoteHead 'font-size shed-small)
    $(add-grace-property 'Voice 'Flag 'font-size shed-small)
    $(add-grace-property 'Voice 'Script 'stencil #f)
    \omit BarNumber
  }
  \context {
    \DrumStaff
    drumStyleTable = #shed-drums
    \numericTimeSignature
  }
}

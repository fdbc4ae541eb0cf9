%% A LilyPond that sets batch after batch: it reads the name of each, sets its file, and says when it is done.

#(use-modules (ice-9 rdelim))

%% Guile's collector is off, for it takes longer than all music if it comes as it likes. Between batches it may come
%% once so many bytes were used up.
#(define shed-most-used 80000000)

#(define (shed-tidy)
   (if (> (assq-ref (gc-stats) 'heap-allocated-since-gc) shed-most-used)
       (begin (gc-enable) (gc) (gc-disable))))

#(define (shed-set-batches)
   (let ((name (read-line)))
     (if (not (eof-object? name))
         (begin
           (ly:parser-parse-string (ly:parser-clone) (ly:gulp-file-utf8 (string-append name ".ly")))
           (format (current-output-port) "done ~a\n" name)
           (force-output)
           (shed-tidy)
           (shed-set-batches)))))

#(shed-set-batches)

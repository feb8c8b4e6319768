"""Which order is a good one, and how good could any order be?

Modules:
  beam            Which orders are the most promising, as they grow stop by stop?
  bound           How good could any order be?
  exact           What is the very best order of a short list?
  fewer           Which stops, and in which order, where more fit than the host wants?
  knapsack        What can no order exceed, whatever the sequence?
  price_table     What could still be won from any stop on, where an object may come again for its
                  price?
  quick           What is a good order of any list, in a fraction of a second?
  trials          What are many orders of one task worth, with the nuisance of long waits counted
                  in?
"""

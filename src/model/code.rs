//! Every code a finding can have, with what it means and an example of what provokes it: what
//! `check --explain CODE` prints. Declared once; a test asks for a test of each.

macro_rules! codes {
    ($($code:ident = $word:literal: $means:literal, $example:literal;)*) => {
        /// What a finding is about, as a stable word to search for.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Code { $($code,)* }

        impl Code {
            /// Every code, in the order of their words.
            pub const ALL: &'static [Code] = &[$(Code::$code),*];

            /// `unknown-key`.
            pub fn word(self) -> &'static str {
                match self { $(Code::$code => $word,)* }
            }

            /// What it means, without a full stop.
            pub fn means(self) -> &'static str {
                match self { $(Code::$code => $means,)* }
            }

            /// What may have been written.
            pub fn example(self) -> &'static str {
                match self { $(Code::$code => $example,)* }
            }
        }
    };
}

/// As it is printed and typed.
impl PartialEq<&str> for Code {
    fn eq(&self, word: &&str) -> bool {
        self.word() == *word
    }
}

impl std::fmt::Display for Code {
    fn fmt(&self, to: &mut std::fmt::Formatter) -> std::fmt::Result {
        to.write_str(self.word())
    }
}

impl<'de> serde::Deserialize<'de> for Code {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Code, D::Error> {
        let word = String::deserialize(from)?;
        Code::of_word(&word).ok_or_else(|| serde::de::Error::custom(format!("no code `{word}`")))
    }
}

codes! {
    AbsurdDate = "absurd-date":
        "a date before 1990 or after 2100",
        "on = 0205-03-01";
    Accent = "accent":
        "the accent is no colour, or too pale to read on white",
        "accent = \"#FFF0C0\"";
    AfterGone = "after-gone":
        "work or a cost long after all of the piece was sold or withdrawn",
        "[[cost]] on = 2025-08-01 of a piece sold on 2025-03-22";
    AgeWord = "age-word":
        "the title claims an age that `made` does not bear out",
        "title = \"Antique desk\" with made = 1990";
    AllowanceOverPrice = "allowance-over-price":
        "an allowance of more than was asked",
        "allowance = [{ on = 2025-05-01, amount = 500 }] on 300";
    AllowanceWithoutSale = "allowance-without-sale":
        "an allowance on a day by which nothing was sold",
        "allowance = [{ on = 2025-01-02, amount = 10 }]";
    Amount = "amount":
        "an amount of money that cannot be read, or with too many decimals",
        "price = \"12,345\"";
    AmountZero = "amount-zero":
        "an expense, a supply or a cost of nothing",
        "amount = 0";
    Apart = "apart":
        "what is left of a piece is stated, but not what comes off",
        "remains = { height = \"30 in\" } without apart";
    AskedBelowCost = "asked-below-cost":
        "a price asked that is below what the piece cost",
        "listing = { price = 25 } of a piece bought for 40";
    BackBeforeConsigned = "back-before-consigned":
        "a piece came back from consignment before it went there",
        "consigned = [{ on = 2025-05-01, to = \"a dealer\", back = 2025-04-01 }]";
    BackBeforePaid = "back-before-paid":
        "a payment went back before it was made",
        "payment = [{ on = 2025-05-01, amount = 50, back = 2025-04-01 }]";
    BankAmount = "bank-amount":
        "an amount of a bank's export that cannot be read",
        "Amount: 12..50";
    BankColumn = "bank-column":
        "a bank's export lacks a column that shop.toml names",
        "[bank] date = \"Posted\", and the export has `Date`";
    BankColumns = "bank-columns":
        "a book names a bank's export, and shop.toml does not say what its columns are",
        "[bank] file = \"bank.csv\" in a book, and no [bank] in shop.toml";
    BankDate = "bank-date":
        "a day of a bank's export that cannot be read",
        "Date: 13/25/2025";
    BankQuotes = "bank-quotes":
        "the quotation marks of a bank's export do not pair up",
        "\"a deposit, 50.00";
    BannedWord = "banned-word":
        "a word that is never printed",
        "title = \"Museum-quality desk\"";
    BeforeBought = "before-bought":
        "something was done to a piece before the day it was bought",
        "work on 2025-01-02, bought on 2025-01-05";
    BookName = "book-name":
        "a file in `books` is not named after a year, so it is not read",
        "books/this-year.toml";
    BoughtTwice = "bought-twice":
        "a piece is bought by itself and in a lot, or in two lots",
        "bought = { … } in the piece, and the piece in a [[lot]]";
    Brace = "brace":
        "a brace of the shop's own description that is not closed, or not opened",
        "Made of {wood";
    BundleCount = "bundle-count":
        "several pieces sold together, and a number of a set",
        "[[bundle]] with count = 2";
    CaseAlone = "case-alone":
        "two folders of pieces whose names differ only in case",
        "pieces/Desk and pieces/desk";
    CategoryWithoutLine = "category-without-line":
        "an expense of a category that no line of its year's form takes",
        "category = \"fun\"";
    CoatOrder = "coat-order":
        "a coat is dated before the one under it",
        "[[coat]] on = 2025-05-02, then [[coat]] on = 2025-05-01";
    CoatsMany = "coats-many":
        "more coats in one entry than are put on",
        "coats = 30";
    ConsignedAfterSold = "consigned-after-sold":
        "a piece went to somebody to be sold when it was sold already",
        "consigned = [{ on = 2025-04-01, to = \"a dealer\" }], sold in March";
    Contradiction = "contradiction":
        "two statements of a piece that cannot both be so",
        "safety = { glass = \"none\" } and a flaw of its glass";
    ControlCharacter = "control-character":
        "a text holds a character that cannot be printed",
        "title = \"Desk\\u0007\"";
    CostOverPrice = "cost-over-price":
        "one cost many times what the piece, or the order, brings",
        "cost = [{ amount = 2780 }] of a piece asked for 420";
    CountOverSet = "count-over-set":
        "more of a set were sold than the set holds",
        "count = 4 and a sale of 6";
    CountedTooMuch = "counted-too-much":
        "more is counted than was ever bought",
        "[[count]] of 3 gal, and 1 gal was bought";
    Country = "country":
        "the country is not a code of two letters",
        "country = \"usa\"";
    CountsDiffer = "counts-differ":
        "one stock item is counted twice on a day, and differently",
        "two [[count]] of one day: 8 fl oz and 12 fl oz";
    CureDays = "cure-days":
        "a coat may be used lightly only after it is fully hard",
        "light-use-days = 30 and cure-days = 7";
    DayLongAfter = "day-long-after":
        "a day long after every other entry of the shop",
        "sale = [{ on = 2052-03-22 }]";
    DayLongBefore = "day-long-before":
        "a day years before every other entry of the shop",
        "bought = { on = 2005-03-02 } in a shop begun in 2024";
    DeliveryOff = "delivery-off":
        "a buyer paid many times what a delivery cost, or a small part of it",
        "delivery-charged = 350 and delivery-cost = 20";
    DeliveryOverPrice = "delivery-over-price":
        "a delivery that cost or brought more than the piece",
        "delivery-cost = 2000 of a sale for 400";
    DepositKept = "deposit-kept":
        "a deposit that is kept and of a sale or given back, or kept too early",
        "payment = [{ on = 2025-05-01, amount = 50, kept = 2025-04-01 }]";
    DescriptionLimit = "description-limit":
        "the description does not fit the limit of its channel",
        "description-limit = 80";
    DisclosureLeftOut = "disclosure-left-out":
        "the shop's own description leaves out what must be disclosed",
        "layouts/description.txt without {cautions}";
    DrawWithoutCost = "draw-without-cost":
        "what a draw from shop stock costs cannot be told",
        "[[used]] of a stock item that was never bought";
    DrawnTooMuch = "drawn-too-much":
        "more is drawn than there is",
        "[[used]] of 1 gal, and 1 qt was bought";
    DrawsNotRead = "draws-not-read":
        "a piece whose file has errors drew from stock: later draws may cost a little more or less",
        "[[used]] in a piece file with errors";
    DueBeforeSale = "due-before-sale":
        "a balance that was to be paid before the day of the sale",
        "[[sale]] on = 2025-05-01 and due = 2025-04-01";
    EmptyText = "empty-text":
        "a text with nothing in it",
        "title = \"\"";
    EntryTwice = "entry-twice":
        "the same payment of one day is entered twice",
        "the same expense of one day, payee and amount again";
    ExemptWithTax = "exempt-with-tax":
        "a sale is exempt from sales tax and has some",
        "exempt = \"resale\" and tax-collected = 12";
    ExpenseOverSales = "expense-over-sales":
        "an expense many times larger than all the shop sold for in the year",
        "amount = 31000, and 900.00 was sold";
    FaultNotTold = "fault-not-told":
        "a safety fact states a fault, or that all is well, and the flaws say otherwise",
        "safety = { wobble = \"yes\" } without a flaw";
    FeeOffChannel = "fee-off-channel":
        "a fee many times what the channel's terms give, or a part of it",
        "fee = 5.04 where the channel takes 50.40";
    FeeOverPrice = "fee-over-price":
        "a fee larger than what the buyer paid",
        "fee = 504.00 of a sale for 400";
    FilingPeriod = "filing-period":
        "a filing period that cannot be read",
        "for = \"the spring\"";
    FixedFeeHigh = "fixed-fee-high":
        "a channel's fee on each sale is odd",
        "fixed-fee = 40";
    FontUnknown = "font-unknown":
        "there is no font of that name",
        "font = \"Garamnd\"";
    FontUnusable = "font-unusable":
        "a file in `fonts` is not a font",
        "fonts/readme.txt";
    FormFault = "form-fault":
        "the table of a form does not fit together",
        "a line that adds a line that is not there";
    GivenAway = "given-away":
        "a piece that was in the opening stock was given away: its cost is in no cost of goods sold",
        "withdrawn = { on = 2025-05-01, how = \"given\" }, bought in 2024";
    GlyphMissing = "glyph-missing":
        "the font has no drawing for a character",
        "title = \"櫃\"";
    Grit = "grit":
        "a grit that is too coarse, too fine, or a step too long",
        "grits = [60, 320]";
    HeadlineLimit = "headline-limit":
        "the headline does not fit the limit of its channel",
        "headline-limit = 10";
    Held = "held":
        "a piece is held back: neither listing sheet nor description until a fact is stated",
        "a chest with a latch, and nothing said of it";
    Hours = "hours":
        "hours that cannot be read",
        "hours = \"two\"";
    HoursMany = "hours-many":
        "more hours in one entry than a day has, without a unit",
        "work = [{ task = \"sand\", hours = 150 }]";
    HoursManyInAll = "hours-many-in-all":
        "more hours than a piece takes, without a unit",
        "hours = 300";
    IncomeOverSales = "income-over-sales":
        "income many times larger than all the shop sold for in the year",
        "[[income]] with amount = 31000, and 900.00 was sold";
    KeyTwice = "key-twice":
        "the same key is written twice in a table",
        "title = \"Desk\" and title = \"Oak desk\"";
    Layers = "layers":
        "two coats that do not go one over the other",
        "wax under a film";
    Layout = "layout":
        "a layout of the shop cannot be typeset",
        "layouts/listing-sheet.typ with an error";
    LayoutUnused = "layout-unused":
        "a layout of the shop that no paper is made with, by its name",
        "layouts/listing-sheets.typ";
    LegsTall = "legs-tall":
        "legs taller than the piece",
        "legs = \"50 in\" and height = \"29 in\"";
    Length = "length":
        "a length that cannot be read, or that no furniture has",
        "width = \"36 yards\"";
    Link = "link":
        "a link, which is not followed",
        "pieces/desk -> ../../elsewhere";
    ListedAfterSold = "listed-after-sold":
        "a piece was listed when it was already sold",
        "listing = { on = 2025-06-01 }, sold on 2025-05-01";
    ListingLink = "listing-link":
        "the address of a listing is no web address, or too long for a link code",
        "link = \"my page\"";
    LogoUnusable = "logo-unusable":
        "the logo cannot be used",
        "logo = \"logo.pdf\"";
    LotShare = "lot-share":
        "a piece of a lot has a share of zero",
        "pieces = { \"25-020\" = 0 }";
    LotWithoutPiece = "lot-without-piece":
        "a lot names a piece that is not there",
        "pieces = { \"25-999\" = 1 }";
    LotWithoutPieces = "lot-without-pieces":
        "a lot names no pieces",
        "[[lot]] without pieces";
    Made = "made":
        "a year of making that cannot be read",
        "made = \"old\"";
    MadeAfterBought = "made-after-bought":
        "a piece that was made after it was bought",
        "made = 2091, bought in 2025";
    ManyFindings = "many-findings":
        "a file has more findings than are shown",
        "a file in which every line is wrong";
    MethodChanged = "method-changed":
        "the books are kept in another way than the year before",
        "basis = \"accrual\", and the year before on cash basis";
    MilesWithoutRate = "miles-without-rate":
        "no rate is known for what is driven, so trips are listed and cost nothing",
        "[[trip]] in a country whose rate is not in a table";
    MisleadingWood = "misleading-wood":
        "a trade name that promises another wood",
        "species = \"Philippine mahogany\"";
    Misnamed = "misnamed":
        "a file or folder that is not read because of its name",
        "pieces/desk/Piece.toml";
    MissingKey = "missing-key":
        "a key that must be there is not",
        "[[sale]] without on";
    MoreReturnedThanSold = "more-returned-than-sold":
        "more of a set came back than were sold",
        "sold 2, and [[return]] with count = 3";
    MoreSoldThanHeld = "more-sold-than-held":
        "more of a set were sold than were left",
        "count = 4, sold 3 and then 2";
    NameTwice = "name-twice":
        "two pieces have the same number, or the same folder name and no number",
        "number = \"25-014\" in two files";
    NeedsBrokenFile = "needs-broken-file":
        "a piece is set aside because a file it needs has errors",
        "a piece bought in a lot of a book with errors";
    NegativeAmount = "negative-amount":
        "an amount below zero",
        "price = -10";
    NoForm = "no-form":
        "the shop's country has no tax form here, or its form is in other money: each year is an account of its own figures",
        "country = \"de\"";
    NoFormTable = "no-form-table":
        "there is no account for a year at all",
        "a program without the table `own-account`";
    NoMileageRate = "no-mileage-rate":
        "the form has rates for what is driven, and none for that day",
        "[[trip]] on = 2031-01-01";
    NoRate = "no-rate":
        "the form's table lacks a rate that a line needs",
        "meals in a year without `meals-share`";
    NoShopFile = "no-shop-file":
        "the folder has no shop.toml",
        "a folder of pieces alone";
    NoSuchFile = "no-such-file":
        "a photo or receipt that is not there: an error for a photo, a warning for a receipt",
        "receipt = \"receipts/lost.jpg\"";
    NotAFile = "not-a-file":
        "an entry file that is a pipe or a device",
        "books/2025.toml is a pipe";
    NotSolid = "not-solid":
        "the title says solid, but a part is not",
        "title = \"Solid oak desk\" with a veneered top";
    NotUtf8 = "not-utf-8":
        "a file that is not text in UTF-8",
        "a file saved in an old encoding";
    Number = "number":
        "a number that cannot be read, or out of range",
        "count = -2";
    OnHandWithHistory = "on-hand-with-history":
        "stock on hand at the start of books that have earlier entries of it",
        "[[on-hand]] in 2025, and a [[supply]] in 2024";
    OpeningDifference = "opening-difference":
        "the opening stock is not the closing stock that was filed",
        "[opening] stock = 900, and 950 by the entries";
    OpeningTax = "opening-tax":
        "sales tax held when the books begin is stated in a book that is not the first",
        "[opening] sales-tax = { county = 14.40 } in the second book";
    OrderBasis = "order-basis":
        "an order whose days fall in years kept on different bases",
        "done in a year of accrual, paid in one of cash";
    OrderDays = "order-days":
        "a day of an order that is earlier than it can be",
        "on = 2025-06-01, done = 2025-05-01";
    OrderOfAPiece = "order-of-a-piece":
        "a purchase, a sale, a listing or a draw in the file of an order",
        "[bought] in order.toml";
    OrderTwice = "order-twice":
        "two orders of one number",
        "number = \"W-03\" in two order.toml";
    OtherDistance = "other-distance":
        "a trip in another unit than the shop's country drives in",
        "miles = 12 in a shop with country = \"de\"";
    OtherUnit = "other-unit":
        "a quantity in a unit that does not convert into the stock item's",
        "quantity = \"2 sheets\" of something counted in fl oz";
    OutLink = "out-link":
        "a link stands where a file would be written",
        "out/pieces -> elsewhere";
    OutTaken = "out-taken":
        "something that is not ours stands where a file would be written",
        "a folder named out/stock-sheet.pdf";
    OverPaid = "over-paid":
        "what was paid too much is more than was paid, or went back before it came",
        "[[payment]] amount = 100 and over = 120";
    PanelWood = "panel-wood":
        "a panel of chips or fibres is not of one wood",
        "form = \"particleboard\", species = \"oak\"";
    ParkingHigh = "parking-high":
        "more for parking and tolls than one trip takes",
        "parking = 400";
    PathNotText = "path-not-text":
        "a file or folder whose name is not readable text",
        "a name in an old encoding";
    PathOutside = "path-outside":
        "a photo or receipt outside of the shop folder",
        "file = \"../../../elsewhere.jpg\"";
    PaymentOverPrice = "payment-over-price":
        "a buyer paid more than was asked",
        "payment = [{ on = 2025-05-01, amount = 500 }] on 300";
    PaymentWithoutSale = "payment-without-sale":
        "a payment of no sale there is",
        "sale-on = 2025-05-09, and nothing was sold that day";
    Percent = "percent":
        "a percentage that cannot be read, or without its sign",
        "fee = 12.5";
    PhotoKind = "photo-kind":
        "a photo of a kind no paper can show",
        "photo = [{ file = \"front.heic\" }]";
    PhotoSmall = "photo-small":
        "a photo with too few pixels for its place",
        "a picture of 200 pixels";
    PhotoUnusable = "photo-unusable":
        "a photo that cannot be read",
        "a text file named front.jpg";
    PieceAndPieces = "piece-and-pieces":
        "a trip names one piece and several",
        "[[trip]] piece = \"25-001\" and pieces = [\"25-002\"]";
    PieceMissing = "piece-missing":
        "a folder of pictures below pieces without a piece's file",
        "pieces/desk/front.jpg and no pieces/desk/piece.toml";
    PremiumHigh = "premium-high":
        "a premium of more than half of the price",
        "bought = { price = 40, premium = 400 }";
    PriceOffListing = "price-off-listing":
        "a sale for many times the price asked, or a part of it",
        "sold for 40.00, and 420.00 was asked";
    Quantity = "quantity":
        "a quantity that cannot be read",
        "quantity = \"some\"";
    RateHigh = "rate-high":
        "a fee or a tax of a share that none takes",
        "tax.county = { rate = \"67.5%\" }";
    RateLow = "rate-low":
        "a sales tax below any there is",
        "rate = \"0.06%\"";
    ReceiptNumberGap = "receipt-number-gap":
        "a number of the shop's receipts was passed over",
        "receipt-number = \"17\", then receipt-number = \"19\"";
    ReceiptNumberTwice = "receipt-number-twice":
        "two receipts have the same number",
        "receipt-number = \"17\" in two sales";
    ReceiptTwice = "receipt-twice":
        "entries of two days name the same receipt",
        "receipt = \"receipts/a.jpg\" on 2 and on 5 March";
    RefundOfWhat = "refund-of-what":
        "a refund of nothing, or of more than one thing",
        "[[refund]] with a piece and a category";
    RefundOverCost = "refund-over-cost":
        "a supplier paid back more than was paid",
        "[[refund]] of 120 on a piece bought for 100";
    RefundOverPrice = "refund-over-price":
        "more was given back than was paid",
        "[[return]] with refunded = 500 on 300";
    RefundSmall = "refund-small":
        "a small part of the price given back for the whole piece",
        "return = [{ refunded = 42 }] of 420";
    RefundWithoutPiece = "refund-without-piece":
        "a refund names a piece that is not there",
        "[[refund]] with piece = \"25-999\"";
    RemittedForNothing = "remitted-for-nothing":
        "sales tax is passed on for a period in which nothing was to be paid",
        "[[remitted]] for a quarter without sales";
    ReturnOfWhichSale = "return-of-which-sale":
        "a return may be of several sales that differ, and does not say which",
        "two sales through two channels, and [[return]] without sale-on";
    ReturnWithoutSale = "return-without-sale":
        "a piece came back that was not sold",
        "[[return]] and no [[sale]]";
    ReturnWithoutTax = "return-without-tax":
        "a taxed sale given back without its tax",
        "return = [{ refunded = 400 }] of a taxed sale";
    ReturnedTooMuch = "returned-too-much":
        "in a year, more of a set came back than was sold",
        "sold 2, came back 3";
    SaidTwice = "said-twice":
        "the hours are written in both ways",
        "hours = 5 and [[work]]";
    SaleWithoutTax = "sale-without-tax":
        "a sale by the shop itself without the sales tax of its place",
        "a sale through no channel, in a shop with a [tax.county]";
    SalvagedItself = "salvaged-itself":
        "a part was put into the piece it was taken from",
        "to = \"25-014\" in the file of 25-014";
    SalvagedOverCost = "salvaged-over-cost":
        "a part takes more of a piece's cost with it than there is",
        "cost = 500 of a piece that cost 100";
    SalvagedWhere = "salvaged-where":
        "a part taken from a piece went nowhere, or into a piece and to a buyer",
        "[[salvaged]] with to and sold-for";
    SentBackTooMuch = "sent-back-too-much":
        "more shop stock is sent back than there is",
        "[[refund]] of 1 gal, and 1 qt on hand";
    SetApart = "set-apart":
        "an expense that stands on no line of the form, for the preparer",
        "a planer for 3000.00 as `equipment`";
    SetLarge = "set-large":
        "a set larger than sets are",
        "count = 60";
    ShareLow = "share-low":
        "a business share of next to nothing",
        "share = \"0.6%\"";
    ShopRateHigh = "shop-rate-high":
        "an hour of the owner's at an odd price",
        "shop-rate = 3200";
    SideLarge = "side-large":
        "a side of more than twelve feet",
        "height = \"300 in\"";
    SideLargeForSeat = "side-large-for-seat":
        "a seat for one with a side of more than five feet",
        "width = \"72 in\" of a chair";
    SideSmall = "side-small":
        "a side of less than two inches",
        "width = \"3/4 in\"";
    SoldAfterWithdrawn = "sold-after-withdrawn":
        "a piece was sold after it was withdrawn",
        "withdrawn on 2025-05-01, sold on 2025-06-01";
    SoldBeforeBought = "sold-before-bought":
        "a piece was sold before it was bought",
        "sold on 2025-01-02, bought on 2025-01-05";
    SoldTooMuch = "sold-too-much":
        "in a year, more of a set is sold than there is",
        "count = 4, and 5 sold";
    SoldTwice = "sold-twice":
        "a piece was sold twice without a return between",
        "two [[sale]] of one desk";
    SoldWithoutPurchase = "sold-without-purchase":
        "a piece was sold, and its purchase is not written",
        "[[sale]] and no bought";
    State = "state":
        "the state is not a short code, or not one of the country",
        "state = \"Ohio\"";
    SupplyPriceOff = "supply-price-off":
        "a supply at a price far from the one before",
        "a quart for 4.10, and for 41.00 before";
    SupplyWithoutStock = "supply-without-stock":
        "shop stock bought in units the shop does not keep it in",
        "[[supply]] in sheets of something counted in fl oz";
    Syntax = "syntax":
        "a line that is not TOML",
        "title = Oak desk";
    TaxAboveRate = "tax-above-rate":
        "more sales tax than any rate gives",
        "tax-collected = 64 of a sale for 90";
    TaxOffRate = "tax-off-rate":
        "sales tax that is not what the rate of its place gives",
        "tax-collected = 20 on 100 at 8.25 per cent";
    TaxOverPrice = "tax-over-price":
        "more sales tax inside a price than the price",
        "price = 10, tax-collected = 12, tax-included = true";
    TaxReturnedOverTax = "tax-returned-over-tax":
        "more tax was given back than was taken",
        "tax-returned = 20, and 12 was taken";
    TaxWithoutRate = "tax-without-rate":
        "a price includes sales tax, and nothing says how much",
        "tax-included = true without tax-place";
    TitleTooLong = "title-too-long":
        "a title of more than 200 characters",
        "a title that tells the story";
    TitleWood = "title-wood":
        "the title names a wood the piece does not have",
        "title = \"Walnut desk\", species = \"oak\"";
    TooLarge = "too-large":
        "an entry file of more than 1 MiB",
        "a picture named piece.toml";
    TooMany = "too-many":
        "more entries than a piece or a sheet has room for",
        "an outline of 1000 drawers";
    TradedInUnbought = "traded-in-unbought":
        "a piece taken in part payment whose purchase does not say so",
        "traded-in = \"25-030\", which has no [bought] of that day";
    TripLong = "trip-long":
        "a trip of more miles than a day has",
        "miles = 3450";
    TripOffDay = "trip-off-day":
        "a trip long before the purchase it fetched or the sale it delivered",
        "purpose = \"fetch\" on 2025-02-03, bought on 2025-03-02";
    TripTwice = "trip-twice":
        "the same trip is written twice",
        "two [[trip]] of one day, distance and purpose";
    UnknownCategory = "unknown-category":
        "an expense that no line of the form takes in",
        "category = \"advertizing\"";
    UnknownChannel = "unknown-channel":
        "a channel that shop.toml does not have",
        "channel = \"onlin\"";
    UnknownCurrency = "unknown-currency":
        "a currency that is not known",
        "currency = \"USDD\"";
    UnknownFinish = "unknown-finish":
        "a finish that is not in the table: its care is the most delicate",
        "product = \"secret varnish\"";
    UnknownKey = "unknown-key":
        "a key that its table does not have",
        "titel = \"Desk\"";
    UnknownKind = "unknown-kind":
        "a kind of furniture that is not in the table",
        "kind = \"desque\"";
    UnknownLanguage = "unknown-language":
        "a language the care card cannot be made in",
        "card-languages = [\"xx\"]";
    UnknownMaterial = "unknown-material":
        "a material the table does not know: it is printed as written, without any care",
        "of = \"mable\"";
    UnknownPiece = "unknown-piece":
        "a book names a piece that is not there",
        "piece = \"25-999\"";
    UnknownPlaceholder = "unknown-placeholder":
        "a word in braces that the description does not know",
        "{colour}";
    UnknownStock = "unknown-stock":
        "a stock item that stock.toml does not have",
        "stock = \"topcoats\"";
    UnknownTax = "unknown-tax":
        "a sales tax that shop.toml does not have",
        "tax-place = \"county\" without [tax.county]";
    UnknownUnit = "unknown-unit":
        "a unit that is not known",
        "unit = \"jars\"";
    UnknownWood = "unknown-wood":
        "a wood that is not in the table",
        "species = \"oaque\"";
    UnknownWord = "unknown-word":
        "a word that is none of those that can stand there",
        "purpose = \"fetching\"";
    Unreadable = "unreadable":
        "a file that the machine does not let the program read",
        "a file of somebody else";
    Until = "until":
        "the days of an expense that comes again do not fit",
        "every = \"month\" with until before on";
    VehicleMiles = "vehicle-miles":
        "the distances of the vehicle do not add up",
        "total = 9000, and 9500 in its parts";
    Weight = "weight":
        "a weight that cannot be read",
        "weight = \"heavy\"";
    WeightOdd = "weight-odd":
        "a weight no piece of furniture has that one person handles",
        "weight = \"6400 lb\"";
    WhichCountry = "which-country":
        "several countries have the shop's money, and nothing says which is yours",
        "currency = \"EUR\" without country";
    WhichSale = "which-sale":
        "a payment may be of several sales, and does not say which",
        "two sales on credit, and payment without sale-on";
    WithdrawnAfterSold = "withdrawn-after-sold":
        "a piece is withdrawn, but all of it is sold",
        "sold on 2025-05-01, withdrawn on 2025-06-01";
    WithdrawnBeforeBought = "withdrawn-before-bought":
        "a piece was withdrawn before it was bought",
        "withdrawn on 2025-01-02, bought on 2025-01-05";
    WithdrawnWhileSold = "withdrawn-while-sold":
        "a piece was withdrawn while it was sold",
        "sold, withdrawn, and then came back";
    WorkspaceMonths = "workspace-months":
        "a workspace is in use for more months than a year has",
        "months = 13";
    WorkspaceOverProfit = "workspace-over-profit":
        "part of the workspace is over the profit before it, and counts nowhere",
        "[workspace] in a year without profit";
    WrongType = "wrong-type":
        "a value of another type than the key takes",
        "title = 5";
    WrongYear = "wrong-year":
        "an entry in the book of another year",
        "on = 2024-12-31 in books/2025.toml";
    YearNeedsFile = "year-needs-file":
        "a file that the year may need could not be read",
        "a piece file with errors";
    YearWithoutTable = "year-without-table":
        "a year for which the shop's form has no table: it is an account of your own figures",
        "a sale on 2052-05-01";
}

impl Code {
    pub fn of_word(word: &str) -> Option<Code> {
        Code::ALL.iter().copied().find(|code| code.word() == word)
    }
}
